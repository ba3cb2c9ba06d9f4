/* SPDX-License-Identifier: Apache-2.0 */
/* libFuzzer target: any bytes as a liquid file. What is read must write, read back and write the same, and evaluate.
 * Build the library with -DFUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION, so that a wrong hash is no barrier; start from
 * tests/golden. */
#include "flowcomp/flowcomp.h"
#include "flowcomp/records.h"
#include "json_value_mutator.h"
#include <stdlib.h>
#include <string.h>

static void require(int holds)
{
    if (!holds) {
        abort();
    }
}

static void evaluate(const flc_liquid *liquid)
{
    flc_reading reading;
    flc_reading_init(&reading);
    reading.density.rho_base_kgm3 = 800.0;
    for (double t_degc = -100.0; t_degc < 400.0; t_degc += 20.0) {
        double nu_mm2s = 0.0;
        uint32_t flags = 0;
        flc_volume_factors factors;
        const flc_status viscosity = flc_liquid_viscosity(liquid, t_degc, 800.0, reading.nu_mm2s, &nu_mm2s, &flags);
        require((viscosity == FLC_OK) == (nu_mm2s == nu_mm2s));
        if (flc_liquid_volume(liquid, &reading.density, t_degc, 100.0, &factors) != FLC_OK) {
            require(factors.ctl != factors.ctl);
        }
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    flc_liquid *liquid = NULL, *again = NULL;
    flc_error error;
    const flc_status status = flc_liquid_from_json((const char *)data, size, &liquid, &error);
    require(status == error.status && (status == FLC_OK) == (liquid != NULL));
    if (status == FLC_OK) {
        char *text = NULL, *text_again = NULL;
        require(flc_liquid_to_json(liquid, &text, &error) == FLC_OK);
        require(flc_liquid_from_json(text, strlen(text), &again, &error) == FLC_OK);
        require(flc_liquid_to_json(again, &text_again, &error) == FLC_OK);
        require(strcmp(text, text_again) == 0);
        evaluate(again);
        flc_text_free(text);
        flc_text_free(text_again);
    }
    flc_liquid_free(liquid);
    flc_liquid_free(again);
    return 0;
}
