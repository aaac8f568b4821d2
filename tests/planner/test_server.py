"""The server as a process: it is asked over its port, dies at any moment, ends when left."""

import asyncio
import http.client
import json
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from support.loading import loaded
from support.long import IN_CI
from support.planner import HEAD
from support.planning import planned
from support.programs import HANG
from support.samples import REPOSITORY, run_process

from guidekit.planner import tabs
from guidekit.planner.tabs import Tabs

TEXT = f"{HEAD}\n[[pages]]\ntiers = [2, 1]\n"


@pytest.fixture
def issue(tmp_path: Path) -> Path:
    """An issue of one page."""
    path = tmp_path / "kettle-moth.toml"
    path.write_text(TEXT, "utf-8")
    return path


class Asker:
    """Asks a planner as the browser does."""

    def __init__(self, address: str):
        parts = urlsplit(address)
        self.host = parts.netloc
        self.line = http.client.HTTPConnection(self.host, timeout=HANG)
        answer = self.send("GET", f"/?{parts.query}", {})
        self.cookie = answer.headers["set-cookie"].split(";")[0]
        answer.read()

    def send(self, method: str, path: str, headers: dict[str, str], body: str = "") -> Any:
        """Send one request."""
        self.line.request(method, path, body or None, headers)
        return self.line.getresponse()

    def ask(self, path: str, body: dict[str, Any] | None = None) -> tuple[int, Any]:
        """The status and the JSON of an answer."""
        headers = {"Cookie": self.cookie}
        if body is not None:
            headers |= {"Origin": f"http://{self.host}", "Content-Type": "application/json"}
        text = "" if body is None else json.dumps(body)
        answer = self.send("GET" if body is None else "POST", path, headers, text)
        return answer.status, json.loads(answer.read())


def test_asked_over_its_port(issue: Path) -> None:
    """Book, page and change come over the port; what is no change is refused with a sentence."""
    with planned(issue) as (address, _):
        asker = Asker(address)
        _, book = asker.ask("/book")
        assert (book["title"], book["count"]) == ("Kettle Moth", 1)
        status, page = asker.ask("/page/0")
        assert (status, len(page["panels"]), len(page["edges"])) == (200, 3, 2)
        change = {"do": "divide", "page": 0, "panel": 3, "axis": "across"}
        status, after = asker.ask("/change", {"change": change, "seen": book["version"]})
        assert (status, after["undo"]) == (200, True)
        assert issue.read_text("utf-8") == TEXT.replace("1]", "2]")
        strange: list[Any] = [None, [], {"do": "what"}, {"do": "divide", "page": -1}, {"do": []}]
        for wrong in strange:
            status, answer = asker.ask("/change", {"change": wrong, "seen": after["version"]})
            assert (status, bool(answer["told"])) == (422, True)
        assert asker.ask("/page/7")[0] == 422
        assert asker.send("GET", "/static/../desk.py", {"Cookie": asker.cookie}).status == 404


def test_a_tab_that_begins_to_listen(issue: Path) -> None:
    """It hears at once which version there is now: the file may have changed since it was read."""
    with planned(issue) as (address, _):
        asker = Asker(address)
        _, before = asker.ask("/book")
        change = {"do": "put", "page": 0, "key": ["note"], "value": "Meanwhile"}
        _, after = asker.ask("/change", {"change": change, "seen": before["version"]})
        line = asker.send("GET", "/events", {"Cookie": asker.cookie}).readline()
        asker.line.close()
    told = json.loads(line.removeprefix(b"data: "))
    assert told == {"event": "now", "version": after["version"], "trouble": ""}
    assert told["version"] != before["version"]


def test_what_happens_before_a_tab_listens() -> None:
    """A change between the request of a tab and its first event is in that event."""
    found, version = Tabs(), ["old"]

    async def first() -> str:
        events = found.events(lambda: {"version": version[0]})
        version[0] = "new"
        found.tell({"version": "new"})
        line = await anext(events)
        await events.aclose()
        return line

    assert json.loads(asyncio.run(first()).removeprefix("data: ")) == {"version": "new"}


def test_killed_at_any_moment(issue: Path) -> None:
    """Killed among many changes, the file is whole: as it was before one of them, or after."""
    first = TEXT
    for rounds in (1, 7, 20) if IN_CI else (7,):
        with planned(issue) as (address, process):
            asker = Asker(address)
            _, book = asker.ask("/book")
            for i in range(rounds):
                change = {"do": "put", "page": 0, "key": ["note"], "value": f"{rounds}: {i}"}
                _, book = asker.ask("/change", {"change": change, "seen": book["version"]})
            last = change | {"value": "the last"}
            headers = {"Cookie": asker.cookie, "Origin": f"http://{asker.host}"}
            headers["Content-Type"] = "application/json"
            body = json.dumps({"change": last, "seen": book["version"]})
            asker.line.request("POST", "/change", body, headers)
            process.kill()
            process.wait(HANG)
        text = issue.read_text("utf-8")
        notes = ("the last", f"{rounds}: {rounds - 1}")
        assert text in [f'{first}note = "{note}"\n' for note in notes]


def test_it_ends_when_the_last_tab_is_closed(monkeypatch: pytest.MonkeyPatch) -> None:
    """It stays while a tab is open, and for a while after; then it ends by itself."""
    found, clock, real = Tabs(), [0.0], asyncio.sleep

    async def passes(seconds: float) -> None:
        clock[0] += seconds
        await real(0)

    async def life() -> tuple[bool, float]:
        monkeypatch.setattr(asyncio.get_running_loop(), "time", lambda: clock[0])
        found.open.add(asyncio.Queue())
        left = asyncio.create_task(found.until_left())
        for _ in range(100):
            await real(0)
        stayed, closed = not left.done(), clock[0]
        found.open.clear()
        await left
        return stayed, clock[0] - closed

    monkeypatch.setattr(asyncio, "sleep", passes)
    stayed, after = asyncio.run(life())
    assert stayed
    assert abs(after - tabs.AFTER_LAST) <= 1  # it looks every second


def test_no_other_command_loads_it() -> None:
    """The server's libraries are loaded by no other command."""
    libraries = ("starlette", "uvicorn", "watchfiles", "asyncio")
    assert loaded("import guidekit.cli, guidekit.build", libraries) == []


def test_a_port_in_use_is_told(issue: Path) -> None:
    """A port that another server has is told, with exit code 1."""
    with planned(issue) as (address, _):
        port = urlsplit(address).port
        done = run_process(["plan", issue, "--port", port], REPOSITORY)
    assert done.code == 1
    assert f"listening on port {port}" in done.err
