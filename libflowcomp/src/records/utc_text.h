/* SPDX-License-Identifier: Apache-2.0 */
/* Times as every file has them: "2025-01-31T06:00:00.000Z", UTC, so that the order of the texts is that of time. */
#ifndef FLC_UTC_TEXT_H
#define FLC_UTC_TEXT_H

#include <stdint.h>

#define FLC_UTC_LENGTH 24
#define FLC_UTC_TEXT (FLC_UTC_LENGTH + 1)
#define FLC_UTC_LOW INT64_C(0)                /* 1970-01-01 */
#define FLC_UTC_HIGH INT64_C(253402300799999) /* end of 9999 */

/** Text of a time from FLC_UTC_LOW to FLC_UTC_HIGH, ms since 1970. */
void flc_utc_to_text(int64_t ms, char *text);

/** Time of FLC_UTC_LENGTH characters; -1 where they are none. Leap seconds have no number here and are refused. */
int64_t flc_utc_from_text(const char *text);

#endif
