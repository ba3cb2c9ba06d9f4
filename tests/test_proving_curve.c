/* SPDX-License-Identifier: Apache-2.0 */
/* A proving of a meter with a curve St(Ro): MF = V_prover/(N/K(Ro,T,P)), so a prover that delivers the curve's own
 * volume gives 1, and one that delivers more gives as much more (identities). Ro and St stay with each run. */
#include "check.h"
#include "flowcomp/proving.h"
#include "record_examples.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define RUNS 3

static flc_result metered(const flc_meter *meter, const flc_liquid *liquid, double f_hz, const flc_density *density)
{
    flc_reading reading;
    flc_result result;
    flc_reading_init(&reading);
    flc_result_init(&result);
    reading.f_hz = f_hz;
    reading.t_degc = 25.0;
    reading.p_kpag = 300.0;
    reading.density = *density;
    OK(flc_meter_evaluate(meter, liquid, &reading, &result, NULL));
    return result;
}

static void with_a_curve(void **state)
{
    (void)state;
    flc_meter *meter = example_meter();
    flc_liquid *liquid = example_liquid();
    flc_prover prover;
    flc_proving_options options;
    flc_pass pass[RUNS];
    flc_proving_run run[RUNS];
    flc_proving_finding finding[8];
    flc_proving proving;
    flc_error error;
    flc_prover_init(&prover);
    flc_proving_options_init(&options);
    flc_proving_init(&proving);
    options.way = FLC_WAY_CURVE;
    options.meter = meter;
    options.liquid = liquid;
    options.density.rho_base_kgm3 = 820.0;
    options.runs_min = RUNS;
    const flc_result result = metered(meter, liquid, 58.0, &options.density);
    prover.kind = FLC_PROVER_MASTER_METER; /* no steel in the way */
    prover.master_k_per_m3 = 1000.0;
    prover.master_mf = 1.0;
    for (size_t i = 0; i < RUNS; i++) {
        flc_pass_init(&pass[i]);
        pass[i].run = (uint32_t)i + 1;
        pass[i].pulses = 20000.0;
        pass[i].f_hz = 58.0;
        pass[i].t_meter_degc = pass[i].t_prover_degc = 25.0;
        pass[i].p_meter_kpag = pass[i].p_prover_kpag = 300.0;
        pass[i].pulses_master = 20000.0 / result.k_per_m3 * 1000.0;
    }
    if (flc_prove(&prover, &options, pass, RUNS, run, RUNS, finding, 8, &proving, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    flc_check_relative(proving.mf, 1.0, 1e-14);
    flc_check_same_bits(run[0].k_per_m3, result.k_per_m3);
    flc_check_same_bits(run[1].ro, result.ro);
    flc_check_same_bits(run[2].st, result.st);
    flc_check_relative(proving.st_proved, result.st, 1e-14);
    assert_int_equal(proving.accepted, 1);
    for (size_t i = 0; i < RUNS; i++) {
        pass[i].pulses_master *= 1.002;
    }
    OK(flc_prove(&prover, &options, pass, RUNS, run, RUNS, finding, 8, &proving, &error));
    flc_check_relative(proving.mf, 1.002, 1e-14);
    flc_check_relative(proving.st_proved, result.st / 1.002, 1e-14);
    pass[1].ctl_meter = 0.99;
    assert_int_equal(flc_prove(&prover, &options, pass, RUNS, run, RUNS, finding, 8, &proving, &error), FLC_E_CONFLICT);
    pass[1].ctl_meter = NAN;
    pass[1].f_hz = 0.01;
    assert_int_not_equal(flc_prove(&prover, &options, pass, RUNS, run, RUNS, finding, 8, &proving, &error), FLC_OK);
    assert_string_equal(error.argument, "f_hz");
    assert_int_equal(error.index, 1);
    flc_check_nan(proving.mf);
    options.liquid = NULL;
    assert_int_equal(flc_prove(&prover, &options, pass, RUNS, run, RUNS, finding, 8, &proving, &error), FLC_E_MISSING);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(with_a_curve)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
