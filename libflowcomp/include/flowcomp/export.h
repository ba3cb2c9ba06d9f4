/* SPDX-License-Identifier: Apache-2.0 */
/* What every public header needs: visibility, the C++ wrapper, and the warning for an ignored status. */
#ifndef FLOWCOMP_EXPORT_H
#define FLOWCOMP_EXPORT_H

#if defined(SWIG) || !defined(__GNUC__)
#define FLC_API
#else
#define FLC_API __attribute__((visibility("default")))
#endif

/* Ignoring a status warns in debug builds (FLC_WARN_UNUSED is defined by the dev preset; a host may define it too). */
#if defined(FLC_WARN_UNUSED) && defined(__GNUC__) && !defined(SWIG)
#define FLC_STATUS __attribute__((warn_unused_result)) flc_status
#else
#define FLC_STATUS flc_status
#endif

/* A struct that may grow starts with its size. Its initialiser, flc_..._init, is a macro that passes on the size the
 * caller knows: an older program is given no more than it has room for. Fields are only ever appended. */

#ifdef __cplusplus
#define FLC_BEGIN_DECLS extern "C" {
#define FLC_END_DECLS }
#else
#define FLC_BEGIN_DECLS
#define FLC_END_DECLS
#endif

#endif
