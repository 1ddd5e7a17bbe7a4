"""The HTML report: parsed as a browser would, and shown by one where it is installed."""

from __future__ import annotations

import re
import shutil
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest
from lxml import etree, html
from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.problems import InputError
from cleatmark.report.files import write_report
from cleatmark.report.html_report import html_text, write_html
from cleatmark.report.svg import safe_svg
from cleatmark.review.model import STANDING_CAUTIONS, Plan

from .fixture import COMPLIES, STATES, SWAP, WIDTH_OK


@pytest.fixture(scope="module", params=STATES)
def page(request: pytest.FixtureRequest) -> etree._Element:
    return html.document_fromstring(html_text(STATES[request.param]))


def test_nothing_runs_and_nothing_is_loaded(page: etree._Element) -> None:
    assert not page.xpath("//script | //link | //iframe | //object | //img | //form")
    assert not page.xpath("//@*[starts-with(name(), 'on')] | //@style")
    assert "url(" not in page.xpath("string(//style)")
    assert all(address.startswith("#") for address in page.xpath("//@href"))


def test_landmarks_language_and_title(page: etree._Element) -> None:
    assert page.get("lang") == "en-US"
    assert page.xpath("string(//title)").startswith("Submittal review – Alder Bay")
    for landmark in ("header", "nav", "main", "footer"):
        assert len(page.xpath(f"/html/body/{landmark}")) == 1


def test_each_link_leads_to_an_id_that_is_there_once(page: etree._Element) -> None:
    names = page.xpath("//@id")
    assert len(names) == len(set(names))
    targets = {address[1:] for address in page.xpath("//@href")}
    assert targets <= set(names)
    assert {"report", "part-1"} <= targets


def test_headings_are_in_order(page: etree._Element) -> None:
    levels = [int(heading.tag[1]) for heading in page.iter("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_tables_have_scopes_and_a_name(page: etree._Element) -> None:
    tables = page.xpath("//table")
    assert tables
    for table in tables:
        assert table.xpath("caption") or table.get("aria-label")
        assert all(th.get("scope") == "col" for th in table.xpath("thead//th"))
        assert all(len(row.xpath("th[@scope='row']")) == 1 for row in table.xpath("tbody/tr"))


def test_a_finding_links_to_its_evidence_row() -> None:
    page = html.document_fromstring(html_text(SWAP))
    link = page.xpath("//article[@id='item-1']//a[contains(., 'page')]")[0]
    row = page.get_element_by_id(link.get("href")[1:])
    assert row.tag == "tr"
    assert row.xpath("string(th)") == "T-118"


def test_every_caution_is_printed(page: etree._Element) -> None:
    words = " ".join(page.text_content().split())
    assert all(caution in words for caution in STANDING_CAUTIONS)


def test_the_same_review_gives_the_same_page() -> None:
    assert html_text(SWAP) == html_text(SWAP)


def test_markup_and_control_codes_in_documents_are_shown_and_not_obeyed() -> None:
    hostile = "<script>alert(1)</script> \x1b[2J {{ 7 * 7 }} </style> \" onload='x' \ud800"
    finding = replace(
        WIDTH_OK, verdict="deviates", message=hostile, citations=(Citation("spec", hostile, hostile),)
    )
    plan = Plan(hostile, hostile)
    zone = replace(SWAP.zones[0], zone=hostile, refused=hostile)
    review = replace(
        SWAP, findings=(finding,), root_causes=(), plans=(plan,), zones=(zone,), notices=(hostile,)
    )
    text = html_text(replace(review, job=replace(SWAP.job, name=hostile)))
    assert text.encode("utf-8")
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f]", text)
    page = html.document_fromstring(text)
    assert not page.xpath("//script")
    assert "<script>alert(1)</script> \\x1b[2J {{ 7 * 7 }} </style>" in page.xpath("string(//article[1])")


SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{}</svg>'


def test_a_drawing_keeps_its_shapes_and_loses_what_runs_or_loads() -> None:
    made = safe_svg(
        SVG.format(
            '<defs><pattern id="p"/></defs><rect width="1" height="1" fill="url(#p)" onclick="x()"/>'
            '<rect fill="url(http://a.example/x)"/><script>x()</script><style>@import "x"</style>'
            '<use href="http://a.example/#x"/><use href="#p"/><text>Zone 3</text>'
            '<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>'
            '<!-- x --><a href="#p"/>'
        ),
        "Zones",
    )
    root = etree.fromstring(made)
    assert [etree.QName(one).localname for one in root.iter()] == [
        *("svg", "defs", "pattern", "rect", "rect", "use", "use", "text")
    ]
    assert (root.get("role"), root.get("aria-label")) == ("img", "Zones")
    assert 'fill="url(#p)"' in made
    assert not re.search("onclick|http://a|import", made)


@pytest.mark.parametrize(
    "source",
    [
        "no drawing",
        "<html/>",
        '<!DOCTYPE svg [<!ENTITY a "b">]>' + SVG.format("<text>&a;</text>"),
        "\ud800",
    ],
)
def test_what_is_no_drawing_is_left_out(source: str) -> None:
    assert safe_svg(source, "x") == ""


def test_the_plan_is_inline_with_its_words() -> None:
    plan = Plan("Main roof", "Corner zones at the four corners.", SVG.format("<text>3</text>"))
    page = html.document_fromstring(html_text(replace(COMPLIES, plans=(plan,))))
    figure = page.xpath("//figure")[0]
    assert figure.xpath("div/*[local-name()='svg']/@aria-label") == [plan.alt]
    assert figure.xpath("normalize-space(figcaption)") == f"Main roof: {plan.alt}"


def test_files_follow_their_ending(tmp_path: Path) -> None:
    for ending, start in ((".docx", b"PK"), (".html", b"\n"), (".json", b"{"), (".TXT", b"Submittal review")):
        path = tmp_path / f"report{ending}"
        write_report(SWAP, path)
        assert path.read_bytes().lstrip(b"\n").startswith(start.strip() or b"<!DOCTYPE html>")
    with pytest.raises(InputError, match=r"ends in none of \.docx"):
        write_report(SWAP, tmp_path / "report.pdf")


@pytest.mark.parametrize("width", [360, 1400])
@pytest.mark.parametrize("state", ["listed", "swap", "roofs"])
def test_a_browser_needs_no_sideways_scrolling(tmp_path: Path, state: str, width: int) -> None:
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if browser is None:
        pytest.skip("no headless browser is installed")
    path = tmp_path / "report.html"
    wide = SVG.replace("0 0 10 10", "0 0 1056 816").format('<path d="M40 40 L1016 40 L1016 700 Z"/>')
    write_html(replace(STATES[state], plans=(Plan("Main roof", "Zones", wide),)), path)
    frame = tmp_path / "frame.html"
    # a frame of the width: headless windows have a least width of their own
    frame.write_text(
        f'<iframe id="f" src="report.html" style="width:{width}px;height:800px;border:0"></iframe>'
        "<script>onload = () => { const d = document.getElementById('f').contentDocument.documentElement;"
        "document.title = d.scrollWidth + '/' + d.clientWidth; }</script>"
    )
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"]
    command += [f"--user-data-dir={tmp_path}/profile", "--window-size=1600,900", "--dump-dom", frame.as_uri()]
    shown = subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout
    found = re.search(r"<title>(\d+)/(\d+)</title>", shown)
    assert found, shown
    assert int(found[1]) <= int(found[2])
    assert abs(int(found[2]) - width) < 20


def luminance(color: str) -> float:
    """Relative luminance of a colour written #rgb or #rrggbb. Source: WCAG 2.1, definition of relative luminance."""
    digits = color.lstrip("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    parts = [int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Source: WCAG 2.1, definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_words_stand_out_from_what_is_behind_them() -> None:
    style = html.document_fromstring(html_text(COMPLIES)).xpath("string(//style)")
    named = dict(re.findall(r"--(\w+): (#[0-9a-f]+)", style))
    grounds = {"#fff", named["shade"], *re.findall(r"background: (#[0-9a-f]+)", style)}
    grounds |= set(re.findall(r"#[0-9a-f]{3,6}", re.search(r"repeating-linear-gradient\([^)]*\)", style)[0]))
    assert contrast("#000", "#fff") == pytest.approx(21)
    for ground in grounds:
        assert contrast(named["ink"], ground) >= 4.5, ground
        assert contrast(named["soft"], ground) >= 4.5, ground
    assert contrast("#fff", named["ink"]) >= 4.5  # a verdict set in white
    used = set(re.findall(r"(?<![-\w])color: ([^;}]+)", style))
    assert used <= {"var(--ink)", "var(--soft)", "#fff", "inherit"}


def test_what_the_keyboard_reaches_shows_its_focus() -> None:
    text = html_text(replace(COMPLIES, plans=(Plan("Main", "Zones", SVG.format("<text>3</text>")),)))
    page = html.document_fromstring(text)
    style = page.xpath("string(//style)")
    assert re.search(r"a:focus-visible, summary:focus-visible, \.plan:focus-visible \{ outline: 3px", style)
    reached = page.xpath("//*[@tabindex='0']")
    assert [one.get("class") for one in reached] == ["plan"]
    assert reached[0].get("aria-label") == "Main"


def test_lines_of_one_label_stand_under_it_once() -> None:
    page = html.document_fromstring(html_text(SWAP))
    for entry in page.xpath("//article"):
        labels = [label.text for label in entry.xpath(".//dt")]
        assert all(before != after for before, after in pairwise(labels))
        assert all(len(group.xpath("dd")) >= 1 for group in entry.xpath("dl/div"))
