"""The HTML file: the boxes of the canvases, nothing from elsewhere, nothing that harms."""

import json
import re
import subprocess
from html import unescape
from typing import Any

import pytest
from support.laid_out_pages import issue
from support.programs import HANG, command, node_package
from support.samples import REPOSITORY, issue_file

from guidekit import measure_issue
from guidekit.overview.make import overview_bytes

SALT_ROAD = REPOSITORY / "examples" / "salt-road.toml"


@pytest.fixture(scope="module")
def page() -> str:
    """The example issue as HTML."""
    return overview_bytes(SALT_ROAD, ".html").decode()


def test_the_boxes_are_those_of_the_canvases(page: str) -> None:
    """Every panel of every page is drawn in the pixels that `measure` gives, in reading order."""
    drawn = re.findall(r'class="panel[^"]*" d="M(\d+) (\d+)H(\d+)V(\d+)H\d+Z"', page)
    boxes = [panel["box"] for one in measure_issue(SALT_ROAD)["pages"] for panel in one["panels"]]
    assert [[*map(int, box)] for box in drawn] == boxes
    trims = re.findall(r'class="trim" d="M(\d+) (\d+)H(\d+)V(\d+)', page)
    expected = [one["trim"] for one in measure_issue(SALT_ROAD)["pages"]]
    assert [[*map(int, box)] for box in trims] == expected


def test_measures_are_told_once_for_pages_alike(page: str) -> None:
    """Each page leads to its measures in words, in pixels and millimetres."""
    (data,) = re.findall(r'id="measures">(.*?)</script>', page)
    texts: list[str] = json.loads(data)
    assert len(texts) == len(set(texts)) < 23
    at = int(re.findall(r'data-name="Page 4, left[^"]*" data-measures="(\d+)"', page)[0])
    assert "trim 3975 × 6150 px, 168.3 × 260.4 mm" in texts[at]
    assert "panel 6: 3675 × 1875 px, 155.6 × 79.4 mm" in texts[at]


def test_nothing_comes_from_elsewhere(page: str) -> None:
    """No address of any network stands in it, and a policy forbids the browser to load any."""
    assert not re.findall(r"https?:|//[a-z]|@import|url\(", page)
    assert "default-src 'none'" in page


@pytest.mark.parametrize("nasty", ["</script><script>alert(1)</script>", '"><img src=x>', "$title"])
def test_words_stay_words(nasty: str, tmp_path: Any) -> None:
    """A title, note or section of any kind is shown as it is written and ends nothing."""
    text = issue({"panels": "splash", "note": nasty, "section": nasty}, title=nasty)
    made = overview_bytes(issue_file(tmp_path, text), ".html").decode()
    assert made.count("<script") == 2
    assert "<img" not in made
    assert unescape(re.findall("<h1>(.*?)</h1>", made)[0]) == nasty
    assert unescape(re.findall("<h2>(.*?)</h2>", made)[0]) == nasty


def test_it_is_valid(page: str) -> None:
    """An HTML validator of others has no error to tell (html-validate, its standard rules)."""
    package = node_package("html-validate")
    check = (
        "const {HtmlValidate} = require(process.argv[1]);"
        "const found = new HtmlValidate({extends: ['html-validate:standard']});"
        "found.validateString(require('fs').readFileSync(0, 'utf-8')).then(report => "
        "console.log(JSON.stringify(report.results.flatMap(r => r.messages))))"
    )
    call = [command("node"), "-e", check, str(package)]
    done = subprocess.run(call, input=page.encode(), capture_output=True, check=True, timeout=HANG)
    told = json.loads(done.stdout)
    assert [f"{m['line']}: {m['ruleId']}: {m['message']}" for m in told if m["severity"] > 1] == []
