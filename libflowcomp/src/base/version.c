/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/status.h"
#include "flowcomp/version.h"

const char *flc_version(void)
{
    return FLC_VERSION_TEXT;
}

const char *flc_bits_contract(void)
{
    return FLC_BITS_CONTRACT;
}
