# SPDX-License-Identifier: Apache-2.0
"""One whole record of a crude oil to base 60 degF, from the written contract alone (DEVELOPERS.md, "The contract of
bits"): Python floats, whole numbers and struct, no libm. It must give the bits of the library."""
import struct

H = float.fromhex
SHIFT, LN2_HI, LN2_LO = H("0x1.8p52"), H("0x1.62e42fefa3800p-1"), H("0x1.ef35793c76730p-45")
LOG2_E, PI, SQRT_HALF = H("0x1.71547652b82fep+0"), H("0x1.921fb54442d18p+1"), 0x3FE6A09E667F3BCD
Q = [0.5, *map(H, """0x1.5555555555501p-3 0x1.5555555553203p-5 0x1.11111111289d8p-7 0x1.6c16c17cc4848p-10
    0x1.a01a011b948a5p-13 0x1.a019ab28a9deap-16 0x1.71df56b0f3ef8p-19 0x1.289f8fb8877fdp-22
    0x1.ad1d886b3170dp-26""".split())]
R = [*map(H, """0x1.5555555555592p-1 0x1.999999997ff06p-2 0x1.24924941e30dap-2 0x1.c71c521284046p-3 0x1.74663d5d4b84ep-3
    0x1.39a1dc0253b27p-3 0x1.2f044864c263cp-3""".split())]
SCALE = [7.438081, -1.871251, -4.089591, 1.269056, 1.080760, -0.267408, -0.148759]


def bits(x): return struct.unpack("<Q", struct.pack("<d", x))[0]
def number(b): return struct.unpack("<d", struct.pack("<Q", b & (1 << 64) - 1))[0]


def exp_reduced(hi, lo, shifted):
    r = hi + lo
    r2 = r * r
    r4 = r2 * r2
    q01, q23, q45, q67, q89 = (Q[i] + Q[i + 1] * r for i in range(0, 10, 2))
    q = (q01 + r2 * q23) + r4 * ((q45 + r2 * q67) + r4 * q89)
    total = 1.0 + hi
    y = total + ((((1.0 - total) + hi) + lo) + r2 * q)
    return number(bits(y) + (bits(shifted) << 52))


def exp(x):
    shifted = x * LOG2_E + SHIFT
    k = shifted - SHIFT
    return exp_reduced(x - k * LN2_HI, -(k * LN2_LO), shifted)


def log(x):
    moved = bits(x) + 0x3FF0000000000000 - SQRT_HALF
    k, f = float(moved >> 52) - 1023.0, number((moved & (1 << 52) - 1) + SQRT_HALF) - 1.0
    s, half = f / (2.0 + f), 0.5 * f * f
    z = s * s
    z2 = z * z
    r = z * ((R[0] + R[1] * z + z2 * (R[2] + R[3] * z)) + (z2 * z2) * (R[4] + R[5] * z + z2 * R[6]))
    whole = k * LN2_HI
    total = whole + f
    return total + (((((whole - total) + f) + k * LN2_LO) + s * (half + r)) - half)


def factors(rho60, t_degc, p_kpa):
    t_degf, psi, half_delta, per = 1.8 * t_degc + 32.0, p_kpa * (1.0 / 6.894757), 0.5 * 0.01374979547, 1.0 / rho60
    tau, tau_sum = (t_degf - 32.0) * (1.0 / 1.8) * (1.0 / 630.0), -3.536296
    for c in SCALE:
        tau_sum = tau_sum * tau + c
    t_star = t_degf - 1.8 * (tau_sum * tau)
    a, ab = half_delta * ((341.0957 * per + 0.0) * per + 0.0), half_delta * ((2.0 * 341.0957 * per + 0.0) * per)
    x, y = a * (1.0 + 0.8 * a), ab * (1.0 + 1.6 * a)
    shift = (x + x * x * (0.5 + x * (1.0 / 6.0))) * (1.0 - y * (1.0 - y * (1.0 - y)))
    per_star = per - per * (shift * (1.0 - shift * (1.0 - shift)))
    alpha, dt = (341.0957 * per_star + 0.0) * per_star + 0.0, t_star - 60.0068749
    ctl = exp_reduced(-(alpha * dt) * (1.0 + 0.8 * (alpha * (dt + 0.01374979547))), 0.0, SHIFT)
    fp = exp(-1.9947 + 0.00013427 * t_star + (793920.0 + 2326.0 * t_star) * (per_star * per_star))
    return ctl, 1.0 / (1.0 - 1e-5 * fp * psi)


def record(m, pulses, seconds, t, p, rho60, nu):
    """Results by name. m: d0, t0, p0, housing, rotor (alpha/K), strain_per_kpa, blocked, knots, cubics of segments."""
    f = pulses / seconds
    e_h, e_r, e_p = m["housing"] * (t - m["t0"]), m["rotor"] * (t - m["t0"]), m["strain_per_kpa"] * (p - m["p0"])
    d, bore, rotor = m["d0"] * (1.0 + e_h) * (1.0 + e_p), (1.0 + e_h) * (1.0 + e_p), 1.0 + e_r
    gap = e_h - e_r + e_p * (1.0 + e_h)
    k_fall = rotor * (rotor * rotor + gap * (bore + rotor) * (1.0 / (1.0 - m["blocked"])))
    b, ro = 1.0 / k_fall, f * (d * d) * 1e6 / nu
    i = max(i for i, x in enumerate(m["knots"][:-1]) if x <= log(ro) or i == 0)
    u, (c0, c1, c2, c3) = log(ro) - m["knots"][i], m["cubics"][i]
    st = c0 + u * (c1 + u * (c2 + u * c3))
    s, k_per_st = (c1 + u * (2.0 * c2 + u * (3.0 * c3))) / st, 4.0 * 1.0 / (PI * (m["d0"] * m["d0"] * m["d0"]))
    (ctl, cpl), per_pulse = factors(rho60, t, p), k_fall / (st * k_per_st)
    q, v = f * per_pulse, pulses * per_pulse
    return {"d_m": d, "b_ratio": b, "ro": ro, "re": 4.0 * q * 1e6 / (PI * d * nu), "st": st,
            "k_per_m3": st * k_per_st * b, "q_m3s": q, "ctl": ctl, "cpl": cpl, "q_base_m3s": q * (ctl * cpl), "slope": s, "dlnq_dlnf": 1.0 - s,
            "f_hz": f, "v_m3": v, "v_base_m3": v * (ctl * cpl)}
