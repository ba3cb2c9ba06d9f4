/* SPDX-License-Identifier: Apache-2.0 */
/* Quantities of tickets and provings, one formula each. Rows with published and recomputed values are in
 * checks/quantities_proving.csv; here are worked chains, identities, tables and refusals. */
#include "check.h"
#include "bad_inputs.h"
#include "flowcomp/proving_quantities.h"
#include "flowcomp/quantities.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define COUNT(list) (sizeof(list) / sizeof((list)[0]))
#define REFUSED(call, status)               \
    do {                                    \
        result = 1.0;                       \
        assert_int_equal((call), (status)); \
        flc_check_nan(result);              \
    } while (0)
#define N(number)         \
    {                     \
        (number), NULL, 0 \
    }
#define LIST(list)               \
    {                            \
        NAN, (list), COUNT(list) \
    }

/* US Army QM5180: 17181.4 - 255.6 = 16925.8, x 0.9950 = 16841.2; QM5096: 2762 - 1920 = 842. The chain 28571.43 bbl ->
 * CCF 0.9861 -> 28174.29 -> 28103.85 is recomputed by hand with the rounding of API MPMS 12.2.2 (from memory). */
static void worked_chain(void **state)
{
    (void)state;
    double result, gross, net, water;
    OK(flc_net_observed_volume(17181.4, 255.6, &result));
    flc_check_near(result, 16925.8, 1e-9);
    OK(flc_standard_volume(16925.8, 0.9950, &result));
    flc_check_near(result, 16841.2, 0.05);
    OK(flc_indicated_volume(1920.0, 2762.0, &result));
    flc_check_same_bits(result, 842.0);
    OK(flc_gsv(28571.43, 0.9987, 0.9862, 1.0012, 4.0, 2.0, &gross));
    flc_check_same_bits(gross, 28174.29);
    OK(flc_nsv(28571.43, 0.9987, 0.9862, 1.0012, 0.25, 4.0, 5.0, 2.0, &net));
    flc_check_same_bits(net, 28103.85);
    OK(flc_swv(28571.43, 0.9987, 0.9862, 1.0012, 0.25, 4.0, 5.0, 2.0, &water));
    flc_check_same_bits(water, 70.44);
    OK(flc_gsv(28571.43, 0.9987, 0.9862, 1.0012, NAN, NAN, &gross)); /* unrounded: 28571.43 x 0.98609984... */
    flc_check_relative(gross, 28571.43 * (0.9987 * 0.9862 * 1.0012), 1e-15);
}

/* Definitions of API MPMS 12.2 (from memory). */
static void corrections(void **state)
{
    (void)state;
    double result, other;
    OK(flc_cpl(250.0, 75.0, 2.1e-5, &result));
    flc_check_relative(result, 1.0 / (1.0 - 175.0 * 2.1e-5), 1e-15);
    OK(flc_cpl(250.0, -5.0, 2.1e-5, &result)); /* a vapour pressure below atmospheric counts as none */
    OK(flc_cpl(250.0, NAN, 2.1e-5, &other));
    flc_check_same_bits(result, other);
    REFUSED(flc_cpl(2e4, 0.0, 5e-5, &result), FLC_E_DOMAIN);
    OK(flc_composite_meter_factor(1.0009, 1.0010, 4.0, &result));
    flc_check_same_bits(result, 1.0019);
    OK(flc_csw(100.0, NAN, &result));
    flc_check_same_bits(result, 0.0);
    REFUSED(flc_csw(100.5, NAN, &result), FLC_E_ABOVE);
    REFUSED(flc_csw(0.25, 4.5, &result), FLC_E_NOT_WHOLE);
    REFUSED(flc_indicated_volume(2762.0, 1920.0, &result), FLC_E_ORDER);
    REFUSED(flc_net_observed_volume(10.0, 10.5, &result), FLC_E_ORDER);
    const double none[] = {0.0, 0.0}, values[] = {15.0, 16.0};
    REFUSED(flc_flow_weighted_average(none, values, 2, &result), FLC_E_DOMAIN);
}

/* (1 - 1.2/850)/(1 - 1.2/8000) and (850 - 1.1)/850: 32.204 ppm apart. */
static void weight_in_air(void **state)
{
    (void)state;
    double result;
    OK(flc_weight_in_air_factor(850.0, 1.2, 8000.0, &result));
    flc_check_near(result, 0.998738046, 5e-10);
    OK(flc_weight_in_air_factor(850.0, 0.0, 8000.0, &result));
    flc_check_same_bits(result, 1.0);
    OK(flc_weight_in_air_difference_ppm(850.0, &result));
    flc_check_near(result, -32.204, 5e-4);
}

/* mean N mean 1/N - 1: five close runs with mpmath in 40 digits, three far apart by hand. */
static void two_methods(void **state)
{
    (void)state;
    const double even[] = {16793.0, 16795.0, 16792.0, 16796.0, 16794.0}, uneven[] = {100.0, 50.0, 100.0};
    double result, data, factor;
    OK(flc_mf_method_difference_ppm(even, COUNT(even), &result));
    flc_check_relative(result, 0.0070912321472034731, 1e-12);
    OK(flc_mf_method_difference_ppm(uneven, COUNT(uneven), &result));
    flc_check_relative(result, 1e6 / 9.0, 1e-14); /* (250/3)(4/300) - 1 = 1/9 */
    OK(flc_mf_pipe_prover(16.80425, 1000.0, even, 1.0003, 1.0001, 0.9908, 1.0010, 0.9909, 1.0010, NAN, 5, &data));
    OK(flc_mf_pipe_prover_average_mf(16.80425, 1000.0, even, 1.0003, 1.0001, 0.9908, 1.0010, 0.9909, 1.0010, 5,
                                     &factor));
    flc_check_near(1e6 * (factor / data - 1.0), 0.0070912, 1e-6);
    REFUSED(flc_mf_tank_prover(0.05, 500.12, 5e-5, 21.4, 15.0, 0.99465, 500.85, 0.99452, 1.0, &result), FLC_E_ORDER);
    REFUSED(flc_mf_pipe_prover(0.0, 1000.0, even, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, NAN, 5, &result), FLC_E_BELOW);
}

/* Means and moving ranges by hand: 1.000, 1.002, 1.001 -> mean 1.001, moving ranges 0.002 and 0.001. */
static void chart(void **state)
{
    (void)state;
    const double mf[] = {1.000, 1.002, 1.001};
    double mean, sigma, high, low, result;
    OK(flc_mf_chart_mean(mf, 3, &mean));
    flc_check_relative(mean, 1.001, 1e-15);
    OK(flc_mf_chart_stdev(mf, 3, &result));
    flc_check_relative(result, 0.001, 1e-12);
    OK(flc_mf_chart_sigma_moving_range(mf, 1.128, 3, &sigma));
    flc_check_relative(sigma, 0.0015 / 1.128, 1e-12);
    OK(flc_mf_chart_upper_limit(mf, 1.128, 3.0, 3, &high));
    OK(flc_mf_chart_lower_limit(mf, 1.128, 3.0, 3, &low));
    flc_check_relative(high - low, 6.0 * sigma, 1e-12);
    flc_check_relative(0.5 * (high + low), mean, 1e-15);
    REFUSED(flc_mf_chart_stdev(mf, 1, &result), FLC_E_COUNT);
    REFUSED(flc_mf_chart_upper_limit(mf, 1.128, 3.0, 1, &result), FLC_E_COUNT);
}

/* Entries with two printed numbers ask which; a policy without an entry says so. */
static void tables(void **state)
{
    (void)state;
    double result;
    flc_acceptance_rule rule;
    flc_provenance provenance;
    OK(flc_reporting_decimals(FLC_ITEM_VCF, FLC_REPORTING_INSPECTION_HANDBOOK, FLC_BOUND_MAX, &result));
    flc_check_same_bits(result, 5.0);
    REFUSED(flc_reporting_decimals(FLC_ITEM_VCF, FLC_REPORTING_INSPECTION_HANDBOOK, FLC_BOUND_NONE, &result),
            FLC_E_MISSING);
    REFUSED(flc_reporting_decimals(FLC_ITEM_VCF, FLC_REPORTING_COMSTOCK_1993, FLC_BOUND_MIN, &result),
            FLC_E_UNKNOWN_NAME);
    REFUSED(flc_reporting_increment(FLC_ITEM_BARRELS, FLC_REPORTING_API_12_2_1995, &result), FLC_E_UNKNOWN_NAME);
    OK(flc_acceptance_rule_from_name("cfr43_3174_11_mf_change", &rule));
    OK(flc_acceptance_rule_provenance(rule, &provenance));
    assert_int_equal(provenance, FLC_FROM_MEMORY);
    OK(flc_acceptance_limit(rule, &result));
    flc_check_same_bits(result, 0.0025);
    OK(flc_acceptance_rule_provenance(FLC_RULE_US_ARMY_QM5096_MF_DEPARTURE, &provenance));
    assert_int_equal(provenance, FLC_PUBLISHED);
    assert_int_equal(flc_acceptance_rule_provenance((flc_acceptance_rule)99, &provenance), FLC_E_CHOICE);
    assert_int_equal(flc_acceptance_rule_provenance(rule, NULL), FLC_E_NULL);
    REFUSED(flc_repeatability_limit_api_4_8_pct(5.5, &result), FLC_E_NOT_WHOLE);
    REFUSED(flc_repeatability_limit_api_4_8_pct(21.0, &result), FLC_E_ABOVE);
}

static void bad_ticket_inputs(void **state)
{
    (void)state;
    const double volumes[] = {120.0, 350.0}, values[] = {14.2, 18.9};
    const flc_value chain[] = {N(28571.43), N(0.9987), N(0.9862), N(1.0012), N(0.25), N(4.0), N(5.0), N(2.0)};
    const flc_value gross[] = {N(28571.43), N(0.9987), N(0.9862), N(1.0012), N(4.0), N(2.0)};
    const flc_value two[] = {N(1000.0), N(10.0)}, readings[] = {N(10.0), N(1000.0)}, vcf[] = {N(1000.0), N(0.995)};
    const flc_value cpl[] = {N(250.0), N(75.0), N(2.1e-5)}, ccf[] = {N(0.9987), N(0.9862), N(1.0012), N(4.0)};
    const flc_value csw[] = {N(0.25), N(5.0)}, cmf[] = {N(1.0009), N(1.001), N(4.0)}, k[] = {N(1000.0), N(1.0009)};
    const flc_value average[] = {LIST(volumes), LIST(values)}, rule[] = {N(0.0)};
    const flc_value item[] = {N(2.0), N(1.0), N(0.0)}, step[] = {N(17.0), N(1.0)};
    const flc_value air[] = {N(850.0), N(1.2), N(8000.0)};
    flc_check_bad_inputs("net_observed_volume", two, COUNT(two));
    flc_check_bad_inputs("indicated_volume", readings, COUNT(readings));
    flc_check_bad_inputs("indicated_volume_from_pulses", two, COUNT(two));
    flc_check_bad_inputs("standard_volume", vcf, COUNT(vcf));
    flc_check_bad_inputs("cpl", cpl, COUNT(cpl));
    flc_check_bad_inputs("ccf", ccf, COUNT(ccf));
    flc_check_bad_inputs("csw", csw, COUNT(csw));
    flc_check_bad_inputs("gsv", gross, COUNT(gross));
    flc_check_bad_inputs("nsv", chain, COUNT(chain));
    flc_check_bad_inputs("swv", chain, COUNT(chain));
    flc_check_bad_inputs("gsv_rounding_effect_ppm", gross, COUNT(gross));
    flc_check_bad_inputs("composite_meter_factor", cmf, COUNT(cmf));
    flc_check_bad_inputs("k_factor_actual", k, COUNT(k));
    flc_check_bad_inputs("flow_weighted_average", average, COUNT(average));
    flc_check_bad_inputs("acceptance_limit", rule, COUNT(rule));
    flc_check_bad_inputs("reporting_decimals", item, COUNT(item));
    flc_check_bad_inputs("reporting_increment", step, COUNT(step));
    flc_check_bad_inputs("weight_in_air_factor", air, COUNT(air));
    flc_check_bad_inputs("weight_in_air_factor_petroleum", air, 1);
    flc_check_bad_inputs("weight_in_air_difference_ppm", air, 1);
}

static void bad_proving_inputs(void **state)
{
    (void)state;
    const double pulses[] = {16793.0, 16795.0, 16792.0}, mf[] = {1.000, 1.002, 1.001};
    const flc_value steel[] = {N(1.0003), N(1.0001), N(0.9908), N(1.001)};
    const flc_value prover[] = {N(16.80425), N(1.0003), N(1.0001), N(0.9908), N(1.001)};
    const flc_value meter[] = {LIST(pulses), N(1000.0), N(0.9909), N(1.001)};
    const flc_value pipe[] = {N(16.80425), N(1000.0), LIST(pulses), N(1.0003), N(1.0001),
                              N(0.9908),   N(1.001),  N(0.9909),    N(1.001),  N(4.0)};
    const flc_value runs[] = {LIST(pulses)}, back[] = {N(8397.2), N(8396.1)}, resolution[] = {N(1e-4)}, n[] = {N(5.0)};
    const flc_value tank[] = {N(500.12),  N(0.05),   N(51.8e-6), N(21.4), N(15.0),
                              N(0.99465), N(500.85), N(0.99452), N(1.0)};
    const flc_value master[] = {N(998.734), N(1.00052), N(0.99381), N(1.00071), N(1000.215), N(0.99377), N(1.00074)};
    const flc_value history[] = {LIST(mf), N(1.128), N(3.0)};
    flc_check_bad_inputs("ccf_prover", steel, COUNT(steel));
    flc_check_bad_inputs("gsv_prover", prover, COUNT(prover));
    flc_check_bad_inputs("isv_meter", meter, COUNT(meter));
    flc_check_bad_inputs("mf_pipe_prover", pipe, COUNT(pipe));
    flc_check_bad_inputs("mf_pipe_prover_average_mf", pipe, COUNT(pipe) - 1);
    flc_check_bad_inputs("mf_method_difference_ppm", runs, COUNT(runs));
    flc_check_bad_inputs("bidirectional_pulses", back, COUNT(back));
    flc_check_bad_inputs("mf_tank_prover", tank, COUNT(tank));
    flc_check_bad_inputs("mf_master_meter", master, COUNT(master));
    flc_check_bad_inputs("minimum_pulses_without_interpolation", resolution, COUNT(resolution));
    flc_check_bad_inputs("repeatability_limit_api_4_8_pct", n, COUNT(n));
    flc_check_bad_inputs("mf_chart_mean", history, 1);
    flc_check_bad_inputs("mf_chart_stdev", history, 1);
    flc_check_bad_inputs("mf_chart_sigma_moving_range", history, 2);
    flc_check_bad_inputs("mf_chart_upper_limit", history, 3);
    flc_check_bad_inputs("mf_chart_lower_limit", history, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worked_chain),
        cmocka_unit_test(corrections),
        cmocka_unit_test(weight_in_air),
        cmocka_unit_test(two_methods),
        cmocka_unit_test(chart),
        cmocka_unit_test(tables),
        cmocka_unit_test(bad_ticket_inputs),
        cmocka_unit_test(bad_proving_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
