"""Who may ask: this machine, a page of this very server, a browser that was shown the token.

A page of another site that reaches this port, by a name of its own (DNS rebinding) or by a form,
is refused, whatever it asks for.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

from starlette.responses import PlainTextResponse, RedirectResponse, Response

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

LARGEST_BODY = 64_000  # bytes; a change is a few hundred
LONGEST_QUERY = 2_000

#: No script and no style but files of this server, no other address, in no frame.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}


@dataclass(frozen=True)
class Guard:
    """An application that only those see who may; everybody else gets a short refusal."""

    app: App
    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32))

    @property
    def hosts(self) -> tuple[str, ...]:
        """The names under which this server may be asked for."""
        return tuple(f"{name}:{self.port}" for name in ("127.0.0.1", "localhost", "[::1]"))

    @property
    def cookie(self) -> str:
        """The name of the cookie: servers on other ports have others."""
        return f"guidekit-{self.port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        body: list[bytes] = []
        refused = self._refusal(scope) or await _read(scope, receive, body)
        if refused:
            await refused(scope, receive, _with_headers(send))
            return
        waiting = [{"type": "http.request", "body": b"".join(body), "more_body": False}]

        async def again() -> Message:
            return waiting.pop() if waiting else await receive()

        await self.app(scope, again, _with_headers(send))

    def _refusal(self, scope: Scope) -> Response | None:
        headers = {name.decode("latin-1"): value for name, value in scope["headers"]}
        host = headers.get("host", b"").decode("latin-1")
        hosts = [value for name, value in scope["headers"] if name == b"host"]
        if host not in self.hosts or len(hosts) != 1:
            return PlainTextResponse("This is another host.", 421)
        if scope["method"] not in ("GET", "POST"):
            return PlainTextResponse("This is not done here.", 405)
        if len(scope["query_string"]) > LONGEST_QUERY:
            return PlainTextResponse("This is too long.", 414)
        origin = headers.get("origin", b"").decode("latin-1")
        if origin or scope["method"] == "POST":
            if origin != f"http://{host}":
                return PlainTextResponse("This comes from another page.", 403)
        elif headers.get("sec-fetch-site", b"none") not in (b"same-origin", b"none"):
            return PlainTextResponse("This comes from another page.", 403)
        if self._has_cookie(headers.get("cookie", b"").decode("latin-1")):
            return None
        given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        if scope["path"] == "/" and scope["method"] == "GET" and self._is_token(given):
            answer = RedirectResponse("/", 303)
            answer.set_cookie(self.cookie, self.token, httponly=True, samesite="strict", path="/")
            return answer
        return PlainTextResponse("Open the address that guidekit plan has printed.", 403)

    def _is_token(self, given: str) -> bool:
        return hmac.compare_digest(given.encode(), self.token.encode())

    def _has_cookie(self, text: str) -> bool:
        try:
            found = SimpleCookie(text).get(self.cookie)
        except CookieError:
            return False
        return bool(found) and self._is_token(found.value if found else "")


async def _read(scope: Scope, receive: Receive, body: list[bytes]) -> Response | None:
    """Collect a body of bounded size, of JSON only; a refusal if it is not that."""
    if scope["method"] != "POST":
        return None
    headers = dict(scope["headers"])
    if headers.get(b"content-type", b"").split(b";")[0].strip() != b"application/json":
        return PlainTextResponse("This is not JSON.", 415)
    size = 0
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return PlainTextResponse("This is not whole.", 400)
        size += len(message.get("body", b""))
        if size > LARGEST_BODY:
            return PlainTextResponse("This is too large.", 413)
        body.append(message.get("body", b""))
        if not message.get("more_body"):
            return None


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = [(name.encode(), value.encode()) for name, value in HEADERS.items()]
            message = {**message, "headers": [*message.get("headers", []), *own]}
        await send(message)

    return sending
