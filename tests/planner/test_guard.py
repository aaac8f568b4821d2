"""Who may ask: nobody but a browser on this machine that was shown the token."""

import asyncio
import json
import random
from typing import Any

import pytest

from guidekit.planner.guard import LARGEST_BODY, Guard

PORT = 4321
HOST = f"127.0.0.1:{PORT}"
TOKEN = "a-token-of-the-test"


class ReachedError(Exception):
    """The application itself was asked."""


async def _app(scope: Any, receive: Any, send: Any) -> None:
    raise ReachedError


def ask(
    method: str = "GET",
    path: str = "/book",
    headers: dict[str, str] | None = None,
    query: str = "",
    body: bytes = b"",
) -> int | str:
    """The status of the answer, or ``reached``."""
    sent: list[Any] = []
    named = {"host": HOST, "cookie": f"guidekit-{PORT}={TOKEN}"}
    if method == "POST":
        named |= {"origin": f"http://{HOST}", "content-type": "application/json"}
    named |= headers or {}
    scope = {
        "type": "http",
        "method": method,
        "path": path,
        "query_string": query.encode(),
        "headers": [(k.encode(), v.encode("latin-1")) for k, v in named.items()],
    }
    parts = [body[i : i + 10_000] for i in range(0, len(body), 10_000)] or [b""]

    async def receive() -> dict[str, Any]:
        part = parts.pop(0)
        return {"type": "http.request", "body": part, "more_body": bool(parts)}

    async def send(message: Any) -> None:
        sent.append(message)

    try:
        asyncio.run(Guard(_app, PORT, TOKEN)(scope, receive, send))
    except ReachedError:
        return "reached"
    answered = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
    assert "script-src 'self'" in answered["content-security-policy"]
    assert answered["cache-control"] == "no-store"
    if location := answered.get("location"):
        assert (location, "samesite=strict" in answered["set-cookie"].lower()) == ("/", True)
        assert "httponly" in answered["set-cookie"].lower()
    return int(sent[0]["status"])


def test_who_may() -> None:
    """A browser with the cookie that asks from a page of this server is answered."""
    assert ask() == "reached"
    assert ask(headers={"host": f"localhost:{PORT}"}) == "reached"
    assert ask("POST", "/change", body=b"{}") == "reached"
    assert ask(headers={"sec-fetch-site": "same-origin"}) == "reached"


def test_the_token_becomes_a_cookie() -> None:
    """The opening address gives a strict cookie, and leads to an address without the token."""
    assert ask(path="/", headers={"cookie": ""}, query=f"token={TOKEN}") == 303
    assert ask(path="/", headers={"cookie": ""}, query="token=another") == 403
    assert ask(path="/book", headers={"cookie": ""}, query=f"token={TOKEN}") == 403


@pytest.mark.parametrize(
    ("status", "request_"),
    [
        (421, {"headers": {"host": f"evil.example:{PORT}"}}),
        (421, {"headers": {"host": "127.0.0.1"}}),
        (421, {"headers": {"host": f"127.0.0.1.evil.example:{PORT}"}}),
        (403, {"headers": {"origin": "http://evil.example"}}),
        (403, {"headers": {"origin": "null"}}),
        (403, {"headers": {"origin": f"https://{HOST}"}}),
        (403, {"headers": {"sec-fetch-site": "cross-site"}}),
        (403, {"headers": {"cookie": ""}}),
        (403, {"headers": {"cookie": f"guidekit-{PORT}=x"}}),
        (403, {"headers": {"cookie": f"guidekit-9={TOKEN}"}}),
        (405, {"method": "PUT"}),
        (405, {"method": "DELETE"}),
        (405, {"method": "OPTIONS"}),
        (403, {"method": "POST", "headers": {"origin": ""}}),
        (415, {"method": "POST", "headers": {"content-type": "text/plain"}}),
        (415, {"method": "POST", "headers": {"content-type": "multipart/form-data"}}),
        (413, {"method": "POST", "body": b"x" * (LARGEST_BODY + 1)}),
        (414, {"query": "x" * 3000}),
    ],
)
def test_who_may_not(status: int, request_: dict[str, Any]) -> None:
    """Another host (DNS rebinding), origin, method, kind or size is refused before all else."""
    assert ask(**request_) == status


def test_a_thousand_hostile_requests() -> None:
    """Whatever is wrong with a request, alone or together, the application is never reached."""
    chance = random.Random(7)
    hosts = ["evil.example", f"evil.example:{PORT}", "127.0.0.1:1", "", "\xff", HOST + " ", "[::1]"]
    cookies = ["", "x", f"guidekit-{PORT}=", f"guidekit-{PORT}={TOKEN[:-1]}", "=;=", "\x7f" * 99]
    for _ in range(1000):
        wrong = {chance.choice(["host", "cookie", "origin"])}
        wrong |= {name for name in ("host", "cookie", "origin") if chance.random() < 0.3}
        headers: dict[str, str] = {}
        if "host" in wrong:
            headers["host"] = chance.choice(hosts)
        if "cookie" in wrong:
            headers["cookie"] = chance.choice(cookies)
        if "origin" in wrong:
            headers["origin"] = chance.choice(["null", "http://a.example", f"http://{HOST}.b", "?"])
        answer = ask(
            chance.choice(["GET", "POST", "PUT", "PATCH", "TRACE"]),
            chance.choice(["/", "/book", "/change", "/static/../desk.py", "/%2e%2e/", "//x"]),
            headers,
            chance.choice(["", "token=", "token=%00", f"token={TOKEN[1:]}"]),
            chance.choice([b"", b"{", json.dumps({"change": 1}).encode(), b"\xff" * 99]),
        )
        assert answer in (303, 403, 405, 413, 414, 415, 421)
