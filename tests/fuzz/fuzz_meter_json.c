/* SPDX-License-Identifier: Apache-2.0 */
/* libFuzzer target: any bytes as a meter file. What is read must write, read back and write the same, and evaluate.
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

static void evaluate(const flc_meter *meter)
{
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = "measured";
    options.volume = FLC_VOLUME_NONE;
    options.viscosity = FLC_VISCOSITY_MEASURED;
    options.u_nu_relative = 0.01;
    flc_liquid *liquid = NULL;
    require(flc_liquid_new(&options, &liquid, NULL) == FLC_OK);
    for (double f_hz = 0.001; f_hz < 1e6; f_hz *= 10.0) {
        flc_reading reading;
        flc_reading_init(&reading);
        reading.f_hz = f_hz;
        reading.t_degc = f_hz < 1.0 ? -200.0 : 40.0;
        reading.p_kpag = 100.0;
        reading.nu_mm2s = 3.0;
        flc_result result;
        flc_result_init(&result);
        const flc_status status = flc_meter_evaluate(meter, liquid, &reading, &result, NULL);
        require(status == result.status);
    }
    flc_liquid_free(liquid);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    flc_meter *meter = NULL, *again = NULL;
    flc_error error;
    const flc_status status = flc_meter_from_json((const char *)data, size, &meter, &error);
    require(status == error.status && (status == FLC_OK) == (meter != NULL));
    if (status == FLC_OK) {
        char *text = NULL, *text_again = NULL;
        require(flc_meter_to_json(meter, &text, &error) == FLC_OK);
        require(flc_meter_from_json(text, strlen(text), &again, &error) == FLC_OK);
        require(flc_meter_to_json(again, &text_again, &error) == FLC_OK);
        require(strcmp(text, text_again) == 0);
        evaluate(again);
        flc_text_free(text);
        flc_text_free(text_again);
    }
    flc_meter_free(meter);
    flc_meter_free(again);
    return 0;
}
