/* SPDX-License-Identifier: Apache-2.0 */
/* A ticket's quantity, from the indicated volume to mass and weight, every intermediate named:
 *
 *   IV -> GV = IV MF -> GSV = IV CCF -> NSV = GSV CSW, SWV = GSV - NSV -> mass = NSV rho -> weight in air
 *
 * in the form of API MPMS 12.2 and ISO 4267-2, from memory. Volumes are in the ticket's own unit, of unit_m3 m³. A wet
 * volume is corrected as oil up to a limit of sediment and water; beyond it oil and water are corrected apart, each
 * with its own factors. A ticket is an account between two parties: their contract and local code come first. */
#ifndef FLOWCOMP_QUANTITY_H
#define FLOWCOMP_QUANTITY_H

#include "flowcomp/explain.h"
#include "flowcomp/proving.h"
#include "flowcomp/quantities.h"
#include "flowcomp/rounding.h"

FLC_BEGIN_DECLS

/* What the per cent of sediment and water are of. */
typedef enum flc_sw_basis {
    FLC_SW_VOLUME_AT_BASE = 0,  /* of the volume at base conditions, as a laboratory reports it */
    FLC_SW_VOLUME_AT_METER = 1, /* of the volume at the meter, as a water-cut analyser reads it */
    FLC_SW_MASS = 2             /* of the mass; needs the densities of oil and water */
} flc_sw_basis;

/** Basis from its word ("volume_at_base", "volume_at_meter", "mass").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_sw_basis_from_name(const char *name, flc_sw_basis *choice);

/* Which form turns mass into weight in air. */
typedef enum flc_air_form {
    FLC_AIR_CONVENTIONAL = 0, /* (1 - ra/rho)/(1 - ra/rw) */
    FLC_AIR_PETROLEUM = 1     /* (rho - 1.1)/rho */
} flc_air_form;

/** Form from its word ("conventional", "petroleum").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_air_form_from_name(const char *name, flc_air_form *choice);

/* Rounding between the steps: none by default, the editions of 1995 to 1998, or the user's own table. */
typedef struct flc_ticket_rounding {
    flc_rounding factors; /* MF CTL CPL */
    flc_rounding ccf;
    flc_rounding csw;
    flc_rounding volume; /* IV GV GSV NSV SWV */
    flc_rounding mass;
} flc_ticket_rounding;

/** Rounding of the editions of 1995 to 1998: the discrimination table api_12_2_1995.
 *  @param volume  the unit of the volumes: FLC_ITEM_BARRELS or FLC_ITEM_CUBIC_METRES. Mass is not rounded
 *  @param[out] rounding  none on failure
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE, FLC_E_UNKNOWN_NAME (the table has no decimals for that unit)
 *  @source API MPMS 12.2.1 Appendix B, 12.2.2, from memory
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_rounding_1995(flc_reporting_item volume, flc_ticket_rounding *rounding);

/* One ticket, or one interval of it. Set up by flc_ticket_init, then filled in. */
typedef struct flc_ticket {
    uint32_t size;
    flc_proving_way way; /* nominal K; with a curve the body is in IV already */
    double iv;           /* indicated volume, in units of unit_m3, 0 or more */
    double unit_m3;      /* 1 */
    double mf;           /* 0.8 to 1.2; 1 */
    double body_ratio;   /* B(metering)/B(proving) where the contract asks for it, else NaN; never with a curve */
    double ctl, cpl;     /* of the oil, or */
    double ctpl;         /* both in one */
    double sw_pct;       /* 0 to 100; 0 */
    flc_sw_basis sw_basis;
    double sw_limit_pct;         /* above it one CTL for oil and water is refused; 5 (ours, no source) */
    double ctl_water, cpl_water; /* of the water: given, they correct oil and water apart at any S&W */
    double rho_base_kgm3;        /* of the oil, kg/m³; NaN: no mass */
    double rho_water_base_kgm3;  /* of the water, kg/m³; for S&W by mass */
    flc_air_form air_form;
    double rho_air_kgm3;     /* 1.2 */
    double rho_weights_kgm3; /* 8000 */
    flc_ticket_rounding rounding;
} flc_ticket;

/** Set up a ticket: size, the defaults above, NaN where a value is required.
 *  @param[out] ticket  never NULL
 *  @since 0.1 */
FLC_API void flc_ticket_init_sized(flc_ticket *ticket, size_t own_size);
#define flc_ticket_init(ticket) flc_ticket_init_sized((ticket), sizeof *(ticket))

/* The values of a ticket in the order of the calculation, listed once: name, unit, symbol, meaning, equation. */
#define FLC_TICKET_LIST(ROW)                                                                                         \
    ROW(iv, "volume", "IV", "indicated volume", "closing - opening, or N/NKF")                                       \
    ROW(mf, "1", "MF", "meter factor", "given, rounded by the policy")                                               \
    ROW(body_ratio, "1", "BR", "body at metering over body at proving conditions", "B(T,P)/B(Tp,Pp)")                \
    ROW(mf_used, "1", "MF'", "meter factor used", "MF, or MF/BR")                                                    \
    ROW(gv, "volume", "GV", "gross volume", "IV MF'")                                                                \
    ROW(ctl, "1", "CTL", "liquid, temperature", "given, rounded by the policy")                                      \
    ROW(cpl, "1", "CPL", "liquid, pressure", "given, rounded by the policy")                                         \
    ROW(ctpl, "1", "CTPL", "liquid, temperature and pressure", "CTL CPL, or given")                                  \
    ROW(ccf, "1", "CCF", "combined correction factor", "MF' CTL CPL")                                                \
    ROW(water_share, "1", "X", "share of sediment and water", "S&W/100; by mass: (w/rho_w)/[w/rho_w + (1 - w)/rho]") \
    ROW(ctpl_water, "1", "CTPLw", "water, temperature and pressure", "CTLw CPLw")                                    \
    ROW(gsv, "volume", "GSV", "gross standard volume", "IV CCF; apart: NSV + SWV")                                   \
    ROW(csw, "1", "CSW", "correction for sediment and water", "1 - X")                                               \
    ROW(nsv, "volume", "NSV", "net standard volume",                                                                 \
        "GSV CSW; apart: GV (1 - X) CTPL at the meter, or GV (1 - X)/[(1 - X)/CTPL + X/CTPLw] at base")              \
    ROW(swv, "volume", "SWV", "sediment and water volume", "GSV - NSV; apart: by CTPLw")                             \
    ROW(mass_kg, "kg", "m", "net mass", "NSV unit rho")                                                              \
    ROW(air_factor, "1", "WF", "weight in air over mass", "(1 - ra/rho)/(1 - ra/rw), or (rho - 1.1)/rho")            \
    ROW(weight_kg, "kg", "W", "net weight in air", "m WF")

typedef struct flc_ticket_result {
    uint32_t size;
    uint32_t flags; /* FLC_FLAG_ROUNDED */
    int32_t apart;  /* 1: oil and water were corrected apart */
#define FLC_TICKET_FIELD(name, unit, symbol, meaning, equation) double name;
    FLC_TICKET_LIST(FLC_TICKET_FIELD)
#undef FLC_TICKET_FIELD
} flc_ticket_result;

/** Set up a result: size, NaN everywhere.
 *  @param[out] result  never NULL
 *  @since 0.1 */
FLC_API void flc_ticket_result_init_sized(flc_ticket_result *result, size_t own_size);
#define flc_ticket_result_init(result) flc_ticket_result_init_sized((result), sizeof *(result))

/** Work out a ticket.
 *  @param ticket  from flc_ticket_init, filled in
 *  @param[out] result  from flc_ticket_result_init; NaN on failure
 *  @param[out] error   names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW (also reverse flow: it
 * has a ticket of its own), FLC_E_ABOVE, FLC_E_MISSING (factors of the water above the limit of sediment and water;
 * densities), FLC_E_CONFLICT (CTL or CPL with CTPL; a body term with a curve), FLC_E_OVERFLOW (rounding)
 *  @source API MPMS 12.2, ISO 4267-2, from memory
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_evaluate(const flc_ticket *ticket, flc_ticket_result *result, flc_error *error);

/** Steps of a ticket in the order of the calculation.
 *  @param result  of flc_ticket_evaluate
 *  @param[out] steps  room for capacity steps, or NULL with 0; the texts live as long as the library
 *  @param capacity  room
 *  @param[out] count  steps there are
 *  @return FLC_OK; FLC_E_NULL; FLC_E_SIZE; FLC_E_BUFFER (count is set, nothing written)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_steps(const flc_ticket_result *result, flc_step *steps, size_t capacity, size_t *count);

/* One interval of a ticket. */
typedef struct flc_ticket_interval {
    double iv;     /* 0: nothing flowed, and its temperature and pressure count for nothing */
    double mf;     /* 0.8 to 1.2 */
    double t_degc; /* mean over the interval, °C */
    double p_kpag; /* mean over the interval, kPa gauge */
} flc_ticket_interval;

/* The two ways over a ticket, side by side. */
typedef struct flc_two_ways {
    double gsv_intervals;  /* sum of IV MF CTL CPL, each interval by its own factors */
    double gsv_averages;   /* sum of IV MF times one CTL and CPL at the flow-weighted averages */
    double difference_ppm; /* averages over intervals - 1 */
    double iv, gv;         /* sums */
    double t_degc, p_kpag; /* flow-weighted */
    double ctl, cpl;       /* at those */
} flc_two_ways;

/** GSV of a ticket as the sum of its intervals and by flow-weighted averages.
 *  @param liquid   with a volume method
 *  @param density  one for the ticket
 *  @param intervals  in any order
 *  @param n        1 or more
 *  @param[out] ways  NaN on failure
 *  @param[out] error  names field and interval, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_COUNT, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_MISSING (no
 * volume method), FLC_E_DOMAIN (nothing flowed), or the status of the liquid
 *  @source API MPMS 21.2 for the averages, from memory
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_two_ways(const flc_liquid *liquid, const flc_density *density,
                                       const flc_ticket_interval *intervals, size_t n, flc_two_ways *ways,
                                       flc_error *error);

/* What fills a line, at one moment. */
typedef struct flc_line_fill {
    double base_volume_m3; /* of the pipe at base_t_degc and 0 gauge, m³ */
    double base_t_degc;
    double gc_per_degc;    /* cubical expansion of the pipe, 1/°C */
    double e_kpa;          /* modulus, kPa */
    double id_m, wall_m;   /* m */
    double t_degc, p_kpag; /* of pipe and liquid */
    double ctl, cpl;       /* of the liquid there */
} flc_line_fill;

/* Its volume, by its own factors. */
typedef struct flc_line_fill_volume {
    double cts, cps; /* of the pipe */
    double gross_m3; /* base volume CTS CPS */
    double gsv_m3;   /* times CTL CPL */
} flc_line_fill_volume;

/** Standard volume of what fills a line.
 *  @param fill  filled in
 *  @param[out] volume  NaN on failure
 *  @param[out] error   names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE
 *  @source CTS and CPS as of a prover, API MPMS 12.2, from memory
 *  @since 0.1 */
FLC_API FLC_STATUS flc_line_fill_at(const flc_line_fill *fill, flc_line_fill_volume *volume, flc_error *error);

/** Change of the line fill between two moments, a line of its own on a ticket or balance.
 *  @param before, after  the same line
 *  @param[out] change_m3  standard volume after less before, m³; NaN on failure
 *  @param[out] error  names the field, or NULL
 *  @return FLC_OK; as flc_line_fill_at; FLC_E_CONFLICT where the two are not of the same pipe
 *  @since 0.1 */
FLC_API FLC_STATUS flc_line_fill_change(const flc_line_fill *before, const flc_line_fill *after, double *change_m3,
                                        flc_error *error);

FLC_END_DECLS

#endif
