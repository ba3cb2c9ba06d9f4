/* SPDX-License-Identifier: Apache-2.0 */
/* The one place that says which version this is: CMake, pkg-config, the Python package and flc_version() derive from
 * these three numbers. */
#ifndef FLOWCOMP_VERSION_H
#define FLOWCOMP_VERSION_H

#define FLC_VERSION_MAJOR 0
#define FLC_VERSION_MINOR 1
#define FLC_VERSION_PATCH 0

#define FLC_VERSION_QUOTE_(number) #number
#define FLC_VERSION_QUOTE(number) FLC_VERSION_QUOTE_(number)

/* "0.1.0" */
#define FLC_VERSION_TEXT                 \
    FLC_VERSION_QUOTE(FLC_VERSION_MAJOR) \
    "." FLC_VERSION_QUOTE(FLC_VERSION_MINOR) "." FLC_VERSION_QUOTE(FLC_VERSION_PATCH)

/* The contract of bits (bits_contract.h): its identifier, and the SHA-256 of its set of results. Both lines are written
 * by tests/bits/publish.py, the identifier after a decision of ours. */
#define FLC_BITS_CONTRACT "FLC-BITS-1"
#define FLC_BITS_HASH "f875ba7966ed25530139fe222c851971a9878cdfbcd7094d29cdcb0c2d320ce4"

#endif
