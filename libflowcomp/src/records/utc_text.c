/* SPDX-License-Identifier: Apache-2.0 */
#define _POSIX_C_SOURCE 200809L
#include "utc_text.h"
#include <string.h>
#include <time.h>

static const char form[] = "0000-00-00T00:00:00.000Z";

static void put(char *text, int place, int digits, int number)
{
    for (int i = digits - 1; i >= 0; i--) {
        text[place + i] = (char)('0' + number % 10);
        number /= 10;
    }
}

void flc_utc_to_text(int64_t ms, char *text)
{
    const time_t seconds = (time_t)(ms / 1000);
    struct tm utc;
    memset(&utc, 0, sizeof utc);
    gmtime_r(&seconds, &utc);
    memcpy(text, form, sizeof form);
    put(text, 0, 4, utc.tm_year + 1900);
    put(text, 5, 2, utc.tm_mon + 1);
    put(text, 8, 2, utc.tm_mday);
    put(text, 11, 2, utc.tm_hour);
    put(text, 14, 2, utc.tm_min);
    put(text, 17, 2, utc.tm_sec);
    put(text, 20, 3, (int)(ms % 1000));
}

static int number_at(const char *text, int place, int digits)
{
    int number = 0;
    for (int i = 0; i < digits; i++) {
        number = 10 * number + (text[place + i] - '0');
    }
    return number;
}

/* Days since 1970 of a civil date, counted in 400-year eras from 1 March 0000. */
static int64_t days_of(int year, int month, int day)
{
    const int64_t y = month <= 2 ? year - 1 : year, era = y / 400, in_era = y % 400;
    const int64_t in_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + in_era * 365 + in_era / 4 - in_era / 100 + in_year - 719468;
}

int64_t flc_utc_from_text(const char *text)
{
    for (int i = 0; i < FLC_UTC_LENGTH; i++) {
        const int digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == '0' ? !digit : text[i] != form[i]) {
            return -1;
        }
    }
    const int64_t days = days_of(number_at(text, 0, 4), number_at(text, 5, 2), number_at(text, 8, 2));
    const int64_t seconds = number_at(text, 11, 2) * 3600 + number_at(text, 14, 2) * 60 + number_at(text, 17, 2);
    const int64_t ms = (days * 86400 + seconds) * 1000 + number_at(text, 20, 3);
    char again[FLC_UTC_TEXT]; /* the 31st of April and the 25th hour come out as another text */
    if (ms < FLC_UTC_LOW || ms > FLC_UTC_HIGH) {
        return -1;
    }
    flc_utc_to_text(ms, again);
    return memcmp(again, text, FLC_UTC_LENGTH) == 0 ? ms : -1;
}
