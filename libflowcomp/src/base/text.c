/* SPDX-License-Identifier: Apache-2.0 */
#include "text.h"
#include "error.h"
#include <string.h>

flc_text flc_text_start(char *buffer, size_t size)
{
    if (buffer != NULL && size > 0) {
        buffer[0] = '\0';
    }
    flc_text text = {buffer, buffer != NULL ? size : 0, 0, 0};
    return text;
}

static void add_character(flc_text *text, char character)
{
    if (text->needed + 1 < text->size) {
        text->buffer[text->needed] = character;
        text->buffer[text->needed + 1] = '\0';
    }
    text->needed++;
    if (character == '\n') {
        text->line = text->needed;
    }
}

void flc_text_add(flc_text *text, const char *words)
{
    for (; *words != '\0'; words++) {
        add_character(text, *words);
    }
}

void flc_text_add_integer(flc_text *text, int64_t number)
{
    char digits[20];
    int count = 0;
    uint64_t rest = number < 0 ? UINT64_C(0) - (uint64_t)number : (uint64_t)number;
    do {
        digits[count++] = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest > 0);
    if (number < 0) {
        add_character(text, '-');
    }
    while (count > 0) {
        add_character(text, digits[--count]);
    }
}

/* Exact decimal digits of a double by whole-number arithmetic: the number is m * 2^e. It is kept as limbs of base 1e9,
 * least significant first; 160 limbs hold the longest case (2^-1074 has 1074 decimals after scaling by 10^1074). */
#define LIMBS 160
#define LIMB_BASE UINT32_C(1000000000)

typedef struct big {
    uint32_t limb[LIMBS];
    int count;
} big;

static void big_multiply(big *number, uint32_t factor)
{
    uint64_t carry = 0;
    for (int i = 0; i < number->count; i++) {
        uint64_t product = (uint64_t)number->limb[i] * factor + carry;
        number->limb[i] = (uint32_t)(product % LIMB_BASE);
        carry = product / LIMB_BASE;
    }
    if (carry > 0) {
        number->limb[number->count++] = (uint32_t)carry;
    }
}

static big big_of(uint64_t number)
{
    big result = {{0}, 0};
    while (number > 0) {
        result.limb[result.count++] = (uint32_t)(number % LIMB_BASE);
        number /= LIMB_BASE;
    }
    return result;
}

/* All decimal digits of |number| (finite, not zero), most significant first, in a text of up to 1100 characters;
 * returns how many; point: the number is 0.d1d2d3... * 10^point. */
static int all_digits(double number, char *digits, int *point)
{
    uint64_t bits = flc_bits_of(number);
    int exponent = (int)((bits >> 52) & 0x7FF);
    uint64_t mantissa = bits & UINT64_C(0xFFFFFFFFFFFFF);
    if (exponent == 0) {
        exponent = 1;
    } else {
        mantissa |= UINT64_C(1) << 52;
    }
    exponent -= 1075;
    big value = big_of(mantissa);
    int decimals = 0;
    for (; exponent > 0; exponent--) {
        big_multiply(&value, 2);
    }
    /* m / 2^k = m * 5^k / 10^k */
    for (; exponent < 0; exponent++, decimals++) {
        big_multiply(&value, 5);
    }
    int count = 0;
    for (int i = value.count - 1; i >= 0; i--) {
        uint32_t divisor = LIMB_BASE / 10;
        for (; divisor > 0; divisor /= 10) {
            char digit = (char)('0' + (value.limb[i] / divisor) % 10);
            if (count > 0 || digit != '0') {
                digits[count++] = digit;
            }
        }
    }
    *point = count - decimals;
    return count;
}

/* Cut to wanted digits, half to even on the exact value, then drop trailing zeros; returns the new count. */
static int round_digits(char *digits, int count, int wanted, int *point)
{
    if (count > wanted) {
        int up = digits[wanted] > '5';
        if (digits[wanted] == '5') {
            up = (digits[wanted - 1] - '0') % 2;
            for (int i = wanted + 1; i < count && !up; i++) {
                up = digits[i] != '0';
            }
        }
        count = wanted;
        int place = count - 1;
        while (up && place >= 0) {
            up = digits[place] == '9';
            digits[place] = up ? '0' : (char)(digits[place] + 1);
            place--;
        }
        if (up) { /* 999 became 1000 */
            digits[0] = '1';
            (*point)++;
        }
    }
    while (count > 1 && digits[count - 1] == '0') {
        count--;
    }
    return count;
}

static void write_plain(flc_text *text, const char *digits, int count, int point)
{
    if (point <= 0) {
        flc_text_add(text, "0.");
    }
    for (int i = point; i < 0; i++) {
        add_character(text, '0');
    }
    for (int i = 0; i < count || i < point; i++) {
        if (i == point && i > 0) {
            add_character(text, '.');
        }
        add_character(text, i < count ? digits[i] : '0');
    }
}

static void write_exponent(flc_text *text, const char *digits, int count, int point)
{
    add_character(text, digits[0]);
    if (count > 1) {
        add_character(text, '.');
    }
    for (int i = 1; i < count; i++) {
        add_character(text, digits[i]);
    }
    int exponent = point - 1;
    flc_text_add(text, exponent < 0 ? "e-" : "e+");
    int size = exponent < 0 ? -exponent : exponent;
    if (size < 10) {
        add_character(text, '0');
    }
    flc_text_add_integer(text, size);
}

void flc_text_add_number(flc_text *text, double number, int digits)
{
    if (flc_is_nan(number)) {
        flc_text_add(text, "nan");
        return;
    }
    if (flc_bits_of(number) >> 63) {
        add_character(text, '-');
    }
    if (!flc_is_finite(number)) {
        flc_text_add(text, "inf");
        return;
    }
    if ((flc_bits_of(number) << 1) == 0) {
        add_character(text, '0');
        return;
    }
    char exact[1200];
    int point = 0;
    int count = all_digits(number, exact, &point);
    count = round_digits(exact, count, digits < 1 ? 1 : digits > 17 ? 17 : digits, &point);
    if (point < -4 || point > 15) {
        write_exponent(text, exact, count, point);
    } else {
        write_plain(text, exact, count, point);
    }
}

void flc_text_pad(flc_text *text, size_t column)
{
    do {
        add_character(text, ' ');
    } while (text->needed - text->line < column);
}
