"""The terminal report: snapshots at two widths, the same words with and without rich, hostile text."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace
from syrupy.assertion import SnapshotAssertion

from cleatmark.facts import Citation
from cleatmark.report.lines import cells
from cleatmark.report.text import print_review, review_text
from cleatmark.review.model import STANDING_CAUTIONS

from .fixture import COMPLIES, LISTED, ROOFS, STATES, SWAP, WIDTH_OK

ESCAPE = re.compile("\x1b\\[[0-9;]*m")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("width", [80, 140])
@pytest.mark.parametrize("state", STATES)
def test_the_report_as_printed(state: str, width: int, snapshot: SnapshotAssertion) -> None:
    assert review_text(STATES[state], width) == snapshot


def test_the_full_report_as_printed(snapshot: SnapshotAssertion) -> None:
    assert review_text(SWAP, 100, full=True) == snapshot


@pytest.mark.parametrize("state", STATES)
def test_the_screen_as_printed(state: str, snapshot: SnapshotAssertion) -> None:
    assert review_text(STATES[state], 100, brief=True) == snapshot


def test_a_screen_tells_what_is_open_and_counts_the_rest() -> None:
    text, more = review_text(SWAP, 100, brief=True), review_text(SWAP, 100)
    places = [
        text.index(part) for part in ("What stops fabrication", "Roof zones", "The rest in short", "Cautions")
    ]
    assert places == sorted(places)
    for finding in SWAP.findings:
        if finding.verdict in ("deviates", "not shown"):
            assert finding.title in text
    for section in ("Tested reports", "What complies", "Advice on", "Notices"):
        assert section in more
        assert section not in text
    complying = sum(finding.verdict == "complies" for finding in SWAP.findings)
    assert f"Complies    {complying} requirement" in text
    assert all(caution in " ".join(text.split()) for caution in STANDING_CAUTIONS)
    assert "--packet FILE.docx" in text


def test_a_small_job_fits_a_screen() -> None:
    assert len(review_text(COMPLIES, 100, brief=True).splitlines()) <= 48
    assert "--packet" not in review_text(replace(COMPLIES, requests=()), 100, brief=True)


def test_the_whole_report_is_never_cut_short() -> None:
    assert review_text(SWAP, 100, full=True, brief=True) == review_text(SWAP, 100, full=True)


@pytest.mark.parametrize("width", [40, 80, 100, 140])
@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("state", STATES)
def test_no_line_is_wider_than_asked(state: str, width: int, full: bool) -> None:
    lines = review_text(STATES[state], width, full, brief=True).splitlines()
    lines += review_text(STATES[state], width, full).splitlines()
    assert max(map(cells, lines)) <= width


@pytest.mark.parametrize("width", [80, 140])
@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("state", STATES)
def test_a_terminal_and_a_pipe_get_the_same_words(
    state: str, full: bool, width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    terminal, pipe = Terminal(), io.StringIO()
    print_review(STATES[state], stream=terminal, width=width, full=full, brief=True)
    print_review(STATES[state], stream=pipe, width=width, full=full, brief=True)
    assert ESCAPE.search(terminal.getvalue())
    assert ESCAPE.sub("", terminal.getvalue()) == pipe.getvalue()


def test_a_pipe_is_served_without_rich() -> None:
    program = (
        "import sys, io; from cleatmark.report.text import print_review; from fixture import SWAP;"
        "print_review(SWAP, stream=io.StringIO(), width=80);"
        "print([name for name in ('rich', 'docx', 'jinja2', 'lxml', 'pydantic') if name in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program], cwd=Path(__file__).parent, capture_output=True, text=True
    )
    assert (ran.stdout, ran.stderr) == ("[]\n", "")


def test_what_stops_fabrication_comes_before_all_other_findings() -> None:
    text = review_text(SWAP, 100)
    headings = [
        "Does it meet what was asked?",
        "Does it hold on this site?",
        "Recommendation:",
        "What stops fabrication",
        "Other deviations",
        "Questions, by whom they go to",
        "Roof zones",
        "Tested reports",
        "What complies",
        "Advice on",
        "Departures",
        "Notices",
        "Cautions",
    ]
    places = [text.index(heading) for heading in headings]
    assert places == sorted(places)


def test_a_finding_that_two_causes_share_is_told_once() -> None:
    text = " ".join(review_text(SWAP, 100).split())
    assert text.count("Not shown for this assembly: Uplift resistance") == 1
    assert "Follows: Uplift resistance: told under item 1." in text


def test_each_open_finding_shows_clause_quote_rule_and_evidence_in_the_short_report() -> None:
    text = review_text(SWAP, 140)
    whole = review_text(SWAP, 140, full=True)
    followers = {finding.rule for root in SWAP.root_causes for finding in root.follows}
    for finding in SWAP.findings:
        if finding.verdict == "complies":
            continue
        assert f"[rule {finding.rule}]" in text
        for citation in finding.citations:
            assert f"[{citation.where}]" in whole
            if finding.rule not in followers or citation.kind == "spec":
                assert f"[{citation.where}]" in text
    assert "“Thickness: 24 gauge, nominal.” [07 41 13, 2.02.A.1]" in text


def test_a_long_message_is_told_in_whole_sentences_and_in_full_on_request() -> None:
    message = (
        "No run covers it. "
        + "It differs in much: "
        + "deck nailed proposed, deck screwed tested; " * 9
        + "so it is."
    )
    finding = replace(WIDTH_OK, verdict="deviates", message=message)
    review = replace(COMPLIES, findings=(finding,))
    assert "No run covers it. …\n" in review_text(review, 100)
    assert "so it is." in review_text(review, 100, full=True)


def test_a_clause_is_cited_with_every_finding_that_rests_on_it() -> None:
    follower = replace(SWAP.findings[-1], citations=SWAP.findings[3].citations)
    cause = replace(SWAP.root_causes[1], follows=(follower,))
    text = review_text(replace(SWAP, findings=(SWAP.findings[3], follower), root_causes=(cause,)), 140)
    follows = text[text.index("Follows:") : text.index("[rule zone_uplift]")]
    assert "[07 41 13, 2.03.A]" in follows


def test_places_of_one_input_file_and_quotes_of_one_page_are_told_once() -> None:
    lines = [Citation("submittal", f"c.yaml:{line}", "a: 1") for line in (40, 9, 21, 9, 33)]
    page = [Citation("evidence", "report T-118, page 4", quote) for quote in ("24 ga", "16 in")]
    finding = replace(WIDTH_OK, verdict="deviates", citations=(*lines, *page))
    text = " ".join(review_text(replace(COMPLIES, findings=(finding,)), 140).split())
    assert "“24 ga”, “16 in” [report T-118, page 4]; [c.yaml:9, 21, 33, 40]; [rule width]" in text


def test_the_nearest_run_is_one_of_a_report_and_never_a_data_sheet() -> None:
    run = replace(SWAP.evidence[0].runs[0], differences=())
    sheet = replace(LISTED.evidence[0], id="D-1", kind="data sheet", runs=(run,))
    text = review_text(replace(SWAP, evidence=(sheet, *SWAP.evidence)), 140)
    assert "Nearest: T-118, run 1" in text


def test_where_no_usage_is_known_none_is_claimed() -> None:
    condition = replace(LISTED.evidence[0].conditions[0], unusual=False, usual="")
    text = review_text(replace(LISTED, evidence=(replace(LISTED.evidence[0], conditions=(condition,)),)), 140)
    assert re.search(r"Deck screwed to its supports at 6 in +carpenter +not confirmed +—\n", text)


def test_a_listing_offered_as_a_report_is_named_so_in_its_row() -> None:
    text = review_text(LISTED, 140)
    assert "offered as a tested report; it is a blanket listing" in text
    tested = text[text.index("Tested reports") : text.index("Listings, evaluations")]
    assert "TGX-90" not in tested


def test_each_condition_has_its_state_and_whether_it_is_usual() -> None:
    text = review_text(LISTED, 140)
    assert re.search(
        r"Deck screwed to its supports at 6 in +carpenter +not confirmed +unusual; usual is nailed", text
    )
    assert re.search(
        r"Plywood, 19/32 in +carpenter +on contract documents \(Sheet S-201, note 4\) +usual\n", text
    )


def test_figures_stand_as_a_reader_checks_them() -> None:
    text = review_text(COMPLIES, 140).replace("\n", " ")
    assert "demand 48.2 psf, allowable 52.5 psf, allowable-stress level, 10 sq ft, 92 % used" in text


def test_a_shortfall_within_rounding_does_not_read_as_full() -> None:
    text = review_text(SWAP, 140)
    assert re.search(r"perimeter +10 +52\.54 +52\.50 +100\.1 %", text)


def test_every_report_cautions() -> None:
    for review in STATES.values():
        text = " ".join(review_text(review, 140).split())
        assert all(caution in text for caution in STANDING_CAUTIONS)


def test_the_jobs_units_are_used() -> None:
    text = review_text(ROOFS, 140)
    assert "Demand, kPa" in text
    assert "psf" not in text[text.index("Roof zones") : text.index("Tested reports")]
    # 48.2 psf x 0.04788 kPa/psf = 2.31 kPa; 16.5 in x 25.4 = 419.1 mm
    assert "2.31" in text
    assert "419" in text


HOSTILE = "\x1b]0;owned\x07\x1b[2J[bold red]x[/bold red] {{7*7}} <b>y</b>\x9b31m \u202etxt.exe\r\n\x00 end"


@pytest.mark.parametrize("terminal", [True, False])
def test_control_codes_and_markup_in_documents_are_shown_and_not_obeyed(
    terminal: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    finding = replace(
        WIDTH_OK,
        verdict="deviates",
        title=HOSTILE,
        message=HOSTILE,
        citations=(Citation("spec", HOSTILE, HOSTILE),),
    )
    job = replace(COMPLIES.job, name=HOSTILE)
    review = replace(
        COMPLIES,
        job=job,
        findings=(finding,),
        notices=(HOSTILE,),
        zones=(replace(COMPLIES.zones[0], zone=HOSTILE),),
    )
    stream = Terminal() if terminal else io.StringIO()
    print_review(review, stream=stream, width=140, full=True)
    text = ESCAPE.sub("", stream.getvalue())
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e]", text)
    assert "[bold red]x[/bold red]" in text
    assert r"\x1b]0;owned\x07\x1b[2J" in text
    assert r"\x9b31m" in text
    assert r"\u202etxt.exe" in text


def test_a_stream_that_knows_only_ascii_is_served() -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii", newline="\n")
    print_review(COMPLIES, stream=stream, width=80)
    stream.flush()
    text = raw.getvalue().decode("ascii")
    assert "What stops fabrication ---" in text
    assert '"Corner: 48.2 psf' in text


def test_wide_letters_take_two_columns() -> None:
    zone = replace(COMPLIES.zones[0], zone="屋根の隅" * 3)
    lines = review_text(replace(COMPLIES, zones=(zone,)), 80).splitlines()
    head = next(line for line in lines if line.startswith("Zone"))
    row = next(line for line in lines if line.startswith("屋根"))
    assert head.index("Shown by") == cells(row[: row.index("T-118")])
