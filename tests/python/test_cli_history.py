# SPDX-License-Identifier: Apache-2.0
"""Histories as they are: counters, changes of the clock, duplicates, disorder, gaps, neighbours.

Expected pulses, durations and instants are worked out by hand beside each case; the dates of clock changes in
Europe/Berlin (30 March and 26 October 2025) are common knowledge and checked with zoneinfo.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import flowcomp as fc
import pytest
from small_site import SmallSite, hours

BITS_32 = 4294967296


@pytest.fixture
def site(tmp_path: Path) -> SmallSite:
    return SmallSite(tmp_path)


def pulses(site: SmallSite) -> list[float]:
    return [float(row["pulses"]) for row in site.rows()]


# --- counters ---------------------------------------------------------------------------------------------------------

def test_counter_differences(site: SmallSite) -> None:
    site.counter(1000, 401000, 401000, 801000)
    assert site.restate().exit_code == 0
    assert pulses(site) == [0, 400000, 0, 400000]
    assert site.statuses() == ["counter_start", "ok", "ok", "ok"]


def test_counter_rolls_over(site: SmallSite) -> None:
    site.counter(BITS_32 - 100000, 300000, 700000)
    result = site.restate(counter_modulus=BITS_32)
    assert result.exit_code == 0, result.output
    assert pulses(site) == [0, 400000, 400000]
    assert "counter_rollover" in site.rows()[1]["flags"]
    assert site.events()[1]["counter_before"] == str(BITS_32 - 100000)


def test_counter_is_reset(site: SmallSite) -> None:
    """From 2e9 to 250 000 by a roll-over would be 2.3e9 pulses in an hour, 640 kHz: so it is a reset."""
    site.counter(2_000_000_000, 250000, 650000)
    result = site.restate(counter_modulus=BITS_32)
    assert result.exit_code == 0
    assert pulses(site) == [0, 250000, 400000]
    assert "counter_reset" in site.rows()[1]["flags"]
    assert "1 reset" in result.output


def test_counter_that_falls_a_little_is_unclear(site: SmallSite) -> None:
    """5e8 to 5e8 - 3: neither -3 + 2^32 nor 5e8 pulses in an hour are flow; no pulses are taken."""
    site.counter(500_000_000, 499_999_997, 500_399_997)
    assert site.restate(counter_modulus=BITS_32).exit_code == 0
    assert pulses(site) == [0, 0, 400000]
    assert site.statuses()[1] == "counter_unclear"
    assert site.record()["meters"]["EX-50"]["balance_difference"] == 0


def test_counter_that_jumps_is_refused_with_its_pulses(site: SmallSite) -> None:
    site.counter(0, 400_000, 900_400_000, 900_800_000)
    assert site.restate(above="hold_end").exit_code == 0
    assert site.statuses() == ["counter_start", "ok", "counter_jump", "ok"]
    assert site.record()["meters"]["EX-50"]["totals"]["pulses_refused"] == 900_000_000


def test_counter_max_hz_decides(site: SmallSite) -> None:
    """400 000 pulses an hour are 111.1 Hz."""
    site.counter(0, 400_000)
    assert site.restate(counter_max_hz=111).exit_code == 0
    assert site.statuses()[1] == "counter_jump"
    assert site.restate(counter_max_hz=112, overwrite=True).exit_code == 0
    assert site.statuses()[1] == "ok"


def test_counter_asks_for_its_modulus(site: SmallSite) -> None:
    site.counter(1000, 500000, 300)
    result = site.restate()
    assert result.exit_code == 2
    assert "line 4" in result.output and "--counter-modulus" in result.output and "4294967296" in result.output
    assert not site.out.exists()
    assert site.restate(counter_modulus=0).exit_code == 0
    assert pulses(site) == [0, 499000, 300]


def test_counter_over_a_gap(site: SmallSite) -> None:
    """Two hours are missing: one window of three hours."""
    stamps = hours(5)
    site.readings(*(f"{stamps[i]},{state},20,250" for i, state in ((0, 0), (1, 400000), (4, 1600000))),
                  header="time,counter,t_degc,p_kpag")
    assert site.restate().exit_code == 0
    last = site.rows()[-1]
    assert (float(last["duration_s"]), float(last["pulses"])) == (10800, 1200000)
    assert "spans_gap" in last["flags"]
    assert site.events()[-1]["missing_s"] == "7200"


@pytest.mark.parametrize(("state", "word"), [("", "counter_missing"), ("12.5", "bad_counter"), ("-1", "bad_counter"),
                                             (str(BITS_32), "bad_counter")])
def test_counter_state_that_is_none(site: SmallSite, state: str, word: str) -> None:
    """Nothing is lost: the next window reaches back to the last good state."""
    site.counter(0, 400000, state, 1200000)
    assert site.restate(counter_modulus=BITS_32).exit_code == 0
    assert site.statuses() == ["counter_start", "ok", word, "ok"]
    assert pulses(site) == [0, 400000, 0, 800000]
    assert float(site.rows()[3]["duration_s"]) == 7200


def test_duplicate_of_a_counter_takes_no_pulses(site: SmallSite) -> None:
    first, second, third = hours(3)
    site.readings(f"{first},0,20,250", f"{second},400000,20,250", f"{second},400000,20,250", f"{third},800000,20,250",
                  header="time,counter,t_degc,p_kpag")
    assert site.restate().exit_code == 0
    assert site.statuses() == ["counter_start", "ok", "duplicate_time", "ok"]
    assert pulses(site) == [0, 400000, 0, 400000]


# --- pulses -----------------------------------------------------------------------------------------------------------

def test_every_place_of_the_balance(site: SmallSite) -> None:
    """Forward, reverse, below the curve, under the cut-off, refused, unreadable: each pulse in one place."""
    meter = fc.Meter.load(site.folder / "meter.json")
    fc.Meter(meter.name, meter.body, meter.curve, cutoff_hz=1.0).save(site.folder / "cutoff.json")
    stamps = hours(7)
    # the cut-off is for flow that is known to be low: an hour that may have run in part is no such hour
    cells = ("400000,20,", "-300000,20,", "20000,20,", "3599,20,3600", "500000,,", "12.5,20,", "0,20,")
    site.readings(*(f"{stamp},{cell},250" for stamp, cell in zip(stamps, cells, strict=True)),
                  header="time,pulses,t_degc,flowing_s,p_kpag")
    assert site.restate(meter=site.folder / "cutoff.json").exit_code == 0
    found = site.record()["meters"]["EX-50"]
    totals = found["totals"]
    assert [totals[f"pulses_{place}"] for place in ("in", "forward", "reverse", "below", "cutoff", "refused")] == [
        1223599, 400000, 300000, 20000, 3599, 500000]
    assert (totals["records"], totals["unreadable"], found["balance_difference"], found["pulses_read"]) == (
        7, 1, 0, 1223599)
    assert float(site.rows()[1]["v_m3"]) < 0 and totals["gross_reverse"] > 0


@pytest.mark.parametrize("policy", ["hold_end", "extend_slope"])
def test_policies_of_the_command_line(site: SmallSite, policy: str) -> None:
    """Below the curve a named policy gives a volume, flagged; the meter file's own policy refuses."""
    site.pulses(20000, 8000000)
    assert site.restate(below=policy, above=policy).exit_code == 0
    assert [row["status"] for row in site.rows()] == ["ok", "ok"]
    assert all("extrapolated" in row["flags"] for row in site.rows())
    assert site.restate(overwrite=True).exit_code == 0
    assert site.statuses() == ["below_curve", "above_curve"]


# --- the clock --------------------------------------------------------------------------------------------------------

def local_rows(*stamps: str) -> list[str]:
    return [f"{stamp},400000,20,250" for stamp in stamps]


def ends_utc(site: SmallSite) -> list[datetime]:
    return [datetime.fromisoformat(row["end"]).astimezone(UTC) for row in site.rows()]


def test_repeated_hour(site: SmallSite) -> None:
    """On 26 October 2025 the clock goes from 3 back to 2: local 02:00 comes twice, an hour apart."""
    site.readings(*local_rows("2025-10-26T01:00", "2025-10-26T02:00", "2025-10-26T02:00", "2025-10-26T03:00"))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok"] * 4
    assert [end.hour for end in ends_utc(site)] == [23, 0, 1, 2]
    zone = ZoneInfo("Europe/Berlin")
    assert [end.astimezone(zone).fold for end in ends_utc(site)] == [0, 0, 1, 0]
    assert not site.record()["meters"]["EX-50"]["gaps"]


def test_repeated_hour_in_minutes(site: SmallSite) -> None:
    minutes = [f"2025-10-26T{hour:02d}:{minute:02d}" for hour in (1, 2, 2, 3) for minute in range(0, 60, 10)]
    site.readings(*local_rows(*minutes))
    assert site.restate(interval=600, above="hold_end").exit_code == 0
    assert site.statuses() == ["ok"] * len(minutes)
    assert {(b - a).seconds for a, b in zip(ends_utc(site), ends_utc(site)[1:], strict=False)} == {600}


def test_third_time_in_a_repeated_hour_is_a_duplicate(site: SmallSite) -> None:
    site.readings(*local_rows("2025-10-26T02:00", "2025-10-26T02:00", "2025-10-26T02:00", "2025-10-26T03:00"))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "ok", "duplicate_time", "ok"]


def test_skipped_hour(site: SmallSite) -> None:
    """On 30 March 2025 the clock goes from 2 to 3: local 02:30 does not exist."""
    site.readings(*local_rows("2025-03-30T01:30", "2025-03-30T02:30", "2025-03-30T03:30"))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "skipped_hour", "ok"]
    totals = site.record()["meters"]["EX-50"]["totals"]
    assert (totals["pulses_in"], totals["pulses_refused"]) == (1200000, 400000)
    assert [end.hour for end in ends_utc(site)[::2]] == [0, 1]


def test_a_fixed_offset_has_no_skipped_hour(site: SmallSite) -> None:
    site.readings(*local_rows("2025-03-30T01:30", "2025-03-30T02:30", "2025-03-30T03:30"))
    assert site.restate(timezone="+01:00").exit_code == 0
    assert site.statuses() == ["ok"] * 3


def test_stamp_at_the_start(site: SmallSite) -> None:
    site.readings("2025-02-01T00:00:00+01:00,400000,20,250")
    assert site.restate(stamp="start").exit_code == 0
    assert site.rows()[0]["begin"] == "2025-02-01T00:00:00+01:00"
    assert site.rows()[0]["end"] == "2025-02-01T01:00:00+01:00"
    assert site.months()[0]["month"] == "2025-02"
    assert site.restate(stamp="end", overwrite=True).exit_code == 0
    assert site.months()[0]["month"] == "2025-01"


def test_contract_hour_and_month_day(site: SmallSite) -> None:
    """The month of the 10th, from 06:00: the window from 05:00 on 10 February is still January's."""
    site.readings(*local_rows("2025-02-10T06:00", "2025-02-10T07:00"))
    assert site.restate(contract_hour=6, contract_month_day=10).exit_code == 0
    assert [(row["month"], row["rows"]) for row in site.months()] == [("2025-01", "1"), ("2025-02", "1")]


def test_window_over_the_end_of_a_month_is_flagged(site: SmallSite) -> None:
    site.readings("2025-02-01T00:30:00+01:00,400000,20,250")
    assert site.restate().exit_code == 0
    assert "crosses_month" in site.rows()[0]["flags"]
    assert site.months()[0]["month"] == "2025-01"


# --- order and gaps ---------------------------------------------------------------------------------------------------

def test_duplicate_is_refused_with_its_pulses(site: SmallSite) -> None:
    first, second, third = hours(3)
    site.readings(*local_rows(first, second, second, third))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "ok", "duplicate_time", "ok"]
    assert site.record()["meters"]["EX-50"]["totals"]["pulses_refused"] == 400000


def test_row_out_of_order(site: SmallSite) -> None:
    stamps = hours(5)
    site.readings(*local_rows(stamps[0], stamps[1], stamps[0], stamps[2]))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "ok", "out_of_order", "ok"]


def test_one_wild_time_does_not_spoil_the_rest(site: SmallSite) -> None:
    stamps = hours(4)
    site.readings(*local_rows(stamps[0], "2052-01-01T00:00:00Z", stamps[1], stamps[2]))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "out_of_order", "ok", "ok"]


def test_newest_first_is_recognised(site: SmallSite) -> None:
    site.readings(*local_rows(*reversed(hours(12))))
    result = site.restate()
    assert result.exit_code == 0
    assert "sort it by time" in result.output


def test_gap_is_listed(site: SmallSite) -> None:
    stamps = hours(6)
    site.readings(*local_rows(stamps[0], stamps[1], stamps[5]))
    result = site.restate()
    assert "1 gap, 3.00 h of windows missing" in result.output
    assert site.events()[0]["event"] == "gap" and site.events()[0]["missing_s"] == "10800"


@pytest.mark.parametrize("interval", [0.1, 1, 10, 60])
def test_one_missing_row_is_a_gap_at_any_interval(site: SmallSite, interval: float) -> None:
    stamps = hours(10, step_s=interval)
    rows = [f"{stamp},{round(111 * interval)},20,250" for place, stamp in enumerate(stamps) if place != 5]
    site.readings(*rows)
    assert site.restate(interval=interval).exit_code == 0
    assert [(row["event"], float(row["missing_s"])) for row in site.events()] == [("gap", interval)]


def test_liquid_without_volume_correction(site: SmallSite) -> None:
    site.write("liquids.csv", "liquid,volume,t_degc,nu_mm2s,u_nu_pct", "gas_oil,none,0,6,1", "gas_oil,none,60,1.7,1")
    site.write("batches.csv", "start,liquid", "2025-01-01T00:00:00+01:00,gas_oil")
    site.pulses(400000, 400000)
    result = site.restate()
    assert result.exit_code == 0 and "without a volume correction" in result.output
    assert (site.months()[0]["base_m3"], site.rows()[0]["v_base_m3"]) == ("", "")
    assert float(site.months()[0]["gross_m3"]) > 20


def test_overlap_is_refused(site: SmallSite) -> None:
    site.readings(*local_rows("2025-01-02T01:00:00Z", "2025-01-02T01:30:00Z", "2025-01-02T02:00:00Z"))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "overlap", "ok"]


def test_small_shifts_of_the_clock_are_no_gaps(site: SmallSite) -> None:
    site.readings(*local_rows("2025-01-02T01:00:02Z", "2025-01-02T02:00:00Z", "2025-01-02T03:00:09Z"))
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok"] * 3 and not site.events()


def test_row_without_time_keeps_its_pulses(site: SmallSite) -> None:
    site.readings(f"{hours(1)[0]},400000,20,250", ",300000,20,250")
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok", "no_time"]
    assert [row["month"] for row in site.months()] == ["2025-01", "undated"]
    assert site.record()["meters"]["EX-50"]["totals"]["pulses_refused"] == 300000


def test_row_before_the_first_batch(site: SmallSite) -> None:
    site.pulses(400000, 400000, first="2024-12-31T23:00:00+01:00")
    assert site.restate().exit_code == 0
    assert site.statuses() == ["before_first_batch", "before_first_batch"]
    assert "no batch had begun yet" in site.events()[0]["meaning"]


# --- neighbours -------------------------------------------------------------------------------------------------------

def test_neighbours_flag_partial_flow(site: SmallSite) -> None:
    """An hour at half the pulses beside a standstill may have run for half of the time; steady hours did not."""
    site.pulses(0, 200000, 400000, 400000, 400000, 0)
    assert site.restate(highest_hz=150).exit_code == 0
    flags = [row["flags"] for row in site.rows()]
    assert ["partial_flow" in text for text in flags] == [False, True, False, False, True, False]
    assert float(site.rows()[1]["k_bound"]) > 0


def test_known_flowing_time_is_not_partial(site: SmallSite) -> None:
    stamps = hours(3)
    site.readings(f"{stamps[0]},0,0,20,250", f"{stamps[1]},200000,1800,20,250", f"{stamps[2]},400000,3600,20,250",
                  header="time,pulses,flowing_s,t_degc,p_kpag")
    assert site.restate().exit_code == 0
    row = site.rows()[1]
    assert "partial_flow" not in row["flags"] and "flowing_time_known" in row["flags"]
    assert float(row["f_hz"]) == pytest.approx(200000 / 1800, rel=1e-15)


def test_a_gap_hides_the_neighbour(site: SmallSite) -> None:
    """Steady only if a neighbour that adjoins agrees: after a gap it does not count."""
    stamps = hours(4)
    site.readings(*local_rows(stamps[0], stamps[3]))
    assert site.restate().exit_code == 0
    assert all("partial_flow" in row["flags"] for row in site.rows())
