# SPDX-License-Identifier: Apache-2.0
"""What tickets and trails are worth when somebody has changed one, and what other programs, links, names and a full
disk do to the commands that write them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from small_site import run
from test_cli_prove import HEAD, rows, write
from test_cli_ticket import PUBLIC, SEED, Site, site  # noqa: F401


def test_a_trail_that_was_edited_vouches_for_nothing(site: Site) -> None:
    """The hash of a ticket in an edited trail is no evidence, even where it is the ticket's."""
    trail = site.folder / "trail.jsonl"
    assert site.ticket(unsigned=None, key=site.key, trail=trail, by="day shift").exit_code == 0
    path = site.folder / "out" / "T-1.json"
    assert run("verify", path, "--trail", trail).exit_code == 0
    assert run("verify", path, "--trail", trail, "--public-key", "00" * 32).exit_code == 1
    trail.write_bytes(trail.read_bytes().replace(b"day shift", b"day shaft", 1))
    edited = run("verify", path, "--trail", trail)
    assert edited.exit_code == 1 and "NOT INTACT" in edited.output
    assert run("verify", path, "--trail", site.folder / "none").exit_code == 2


def test_a_head_is_taken_from_a_good_ticket_only(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    assert site.ticket(unsigned=None, key=site.key, trail=trail).exit_code == 0
    path = site.folder / "out" / "T-1.json"
    assert run("evidence", "check", trail, "--ticket", path, "--public-key", PUBLIC).exit_code == 0
    path.write_text(path.read_text(encoding="utf-8").replace('"sw_pct": 0', '"sw_pct": 1', 1), encoding="utf-8")
    refused = run("evidence", "check", trail, "--ticket", path)
    assert refused.exit_code == 2 and "does not verify" in refused.output


def test_a_ticket_that_cannot_be_read_does_not_hide_the_others(site: Site) -> None:
    assert site.ticket().exit_code == 0 and site.ticket(id="T-2").exit_code == 0
    first, second = (site.folder / "out" / f"T-{number}.json" for number in (1, 2))
    first.write_text(first.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    result = run("verify", first, second)
    assert result.exit_code == 1 and "NOT READ" in result.output and "T-2" in result.output
    assert run("verify", first).exit_code == 2


def test_unknown_entries_of_a_trail_are_refused(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    assert site.ticket(trail=trail).exit_code == 0
    wrong = run("evidence", "list", trail, "--type", "tikcet")
    assert wrong.exit_code == 2 and "did you mean ticket" in wrong.output
    assert run("evidence", "list", trail, "--last", "-1").exit_code == 2


def test_names_are_no_commands(site: Site) -> None:
    """Of a terminal, of a page, of a folder."""
    result = site.ticket(id="T\x1b[31m\nred", place="<img src=x onerror=alert(1)>", remark="</dd><script>x")
    assert result.exit_code == 0 and "\x1b" not in result.output
    names = sorted(path.name for path in (site.folder / "out").iterdir())
    page, text = ((site.folder / "out" / names[place]).read_text(encoding="utf-8") for place in (0, 2))
    assert "\x1b" not in text and text.splitlines()[0].endswith("red")
    assert "<img src" not in page and "<script>x" not in page and "&lt;img src" in page
    assert site.ticket(id="../../T").exit_code == 0 and site.ticket(id=".").exit_code == 0
    assert {path.name for path in (site.folder / "out").glob("*.json")} == {names[1], "_._.._T.json", "_.json"}


def test_a_link_left_in_the_folder_is_not_followed(site: Site) -> None:
    victim = site.folder / "victim"
    victim.write_text("mine", encoding="utf-8")
    (site.folder / "out").mkdir()
    (site.folder / "out" / "T-1.json.part").symlink_to(victim)
    assert site.ticket().exit_code == 0
    assert victim.read_text(encoding="utf-8") == "mine" and not (site.folder / "out" / "T-1.json").is_symlink()


def test_signed_and_unsigned_exclude_each_other(site: Site) -> None:
    both = site.ticket(key=site.key)
    assert both.exit_code == 2 and "one of the two" in both.output and not (site.folder / "out").exists()
    runs = write(site.folder / "runs.csv", HEAD | {"meter": "A"}, rows())
    assert run("prove", runs, "--out", site.folder / "p", "--trail", site.folder / "t", "--key", site.key,
               "--unsigned").exit_code == 2


def test_what_to_change_where_a_trail_cannot_be_opened(site: Site) -> None:
    import flowcomp as fc
    from datetime import UTC, datetime

    trail = site.folder / "trail.jsonl"
    with fc.Trail(trail, at=datetime(2025, 3, 1, tzinfo=UTC), key=bytes.fromhex(SEED)):
        busy = site.ticket(unsigned=None, key=site.key, trail=trail)
        assert busy.exit_code == 2 and str(trail) in busy.output.replace("\n", "") and "run again" in busy.output
    site.key.write_text(PUBLIC + "\n", encoding="ascii")
    wrong = site.ticket(unsigned=None, key=site.key, trail=trail)
    assert wrong.exit_code == 2 and "--key" in wrong.output
    nowhere = site.ticket(trail=site.folder / "none" / "trail.jsonl")
    assert nowhere.exit_code == 3 and "No such file or directory" in nowhere.output


def test_provings_that_were_entered_in_part_can_be_entered(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is full after the first of two entries: the same command again goes on; another proving of that
    identifier is refused."""
    import flowcomp as fc

    trail = site.folder / "trail.jsonl"
    files = [write(site.folder / f"{name}.csv", HEAD | {"meter": "A", "proving": name, "date": day}, rows())
             for name, day in (("P-1", "2024-05-01"), ("P-2", "2024-06-01"))]
    whole = fc.Trail.proving

    def full_after_one(self: fc.Trail, id: str, *more: Any, **given: Any) -> Any:
        if id == "P-2":
            raise fc.errors.E_FILE("path", value=28)
        return whole(self, id, *more, **given)

    monkeypatch.setattr(fc.Trail, "proving", full_after_one)
    given = ("--out", site.folder / "p", "--trail", trail, "--unsigned")
    assert run("prove", *files, *given).exit_code == 3 and not (site.folder / "p").exists()
    monkeypatch.undo()
    changed = write(site.folder / "other.csv", HEAD | {"meter": "A", "proving": "P-1"}, rows(t_meter_degf="78.5"))
    refused = run("prove", changed, files[1], *given)
    assert refused.exit_code == 2 and "it is another" in refused.output
    again = run("prove", *files, *given)
    assert again.exit_code == 0, again.output
    assert [entry["id"] for entry in fc.trail_entries(trail)] == ["", "P-1", "P-2"]
    assert run("prove", *files, *given, "--overwrite").exit_code == 2
