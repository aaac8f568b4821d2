"""What the browser can ask for, one function each; see `guidekit.planner.guard` for who may."""

from __future__ import annotations

import asyncio
import json
import webbrowser
from collections.abc import Awaitable, Callable
from mimetypes import guess_type
from pathlib import Path
from typing import TYPE_CHECKING, Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from guidekit.errors import GuidekitError, InputError, MachineError, Problem
from guidekit.planner import changes as asked
from guidekit.planner.book_view import book_data
from guidekit.planner.choices import choices_data
from guidekit.planner.desk import Desk, StaleError, UnsavedError
from guidekit.planner.making import Maker, Work, building, putting_back, refreshing
from guidekit.planner.moving import NotAgreedError, plan_data
from guidekit.planner.page_view import page_data, sheet_data, shelf_data
from guidekit.planner.shaping import rest_at
from guidekit.planner.standing import Standing
from guidekit.planner.tabs import Event, Tabs
from guidekit.preset.describe import described
from guidekit.preset.source import find_preset
from guidekit.studio.catalogue import Studio
from guidekit.toml.file import Origin

if TYPE_CHECKING:
    from guidekit.drawn.moving.renaming import Move

STATIC = Path(__file__).with_name("static")

Answer = Callable[[Request], Awaitable[Response]]


class Planner:
    """One issue on the desk, and the tabs that look at it."""

    def __init__(self, path: Path, studio: Studio):
        self.studio = studio
        self.known = studio.catalogue
        self.desk = Desk(path, self.known)
        self.maker = Maker()
        self.standing = Standing(self.desk.path, self.known)
        self.tabs = Tabs()
        self.files = {file.name: file.read_bytes() for file in STATIC.iterdir() if file.is_file()}

    def app(self) -> Starlette:
        """All that can be asked for."""
        gets: dict[str, Answer] = {
            "/": self.static,
            "/static/{name}": self.static,
            "/book": self.book,
            "/page/{page:int}": self.page,
            "/shelf/{page:int}": self.shelf,
            "/choices": self.choices,
            "/format": self.format,
            "/states": self.states,
            "/drawing/{page:int}": self.drawing,
            "/events": self.events,
        }
        posts: dict[str, Answer] = {
            "/try": self.attempt,
            "/change": self.change,
            "/step": self.step,
            "/make": self.make,
            "/refresh": self.refresh,
            "/put_back": self.put_back,
            "/open": self.open_folder,
        }
        routes = [Route(path, told(answer), methods=["GET"]) for path, answer in gets.items()]
        routes += [Route(path, told(answer), methods=["POST"]) for path, answer in posts.items()]
        return Starlette(routes=routes)

    async def static(self, request: Request) -> Response:
        """A file of the page that the browser shows."""
        name = request.path_params.get("name", "index.html")
        if name not in self.files:
            return Response("There is no such file.", 404, media_type="text/plain")
        kind = "text/javascript" if name.endswith(".js") else guess_type(name)[0]
        return Response(self.files[name], media_type=kind)

    async def book(self, request: Request) -> Response:
        """All pages, small."""
        return JSONResponse(book_data(self.desk))

    async def page(self, request: Request) -> Response:
        """One page, large."""
        page, side = request.path_params["page"], request.query_params.get("side")
        return JSONResponse(page_data(self.desk.book, page, side))

    async def shelf(self, request: Request) -> Response:
        """Layouts in the shape of a page."""
        panels = request.query_params.get("panels", "")
        number = int(panels) if panels.isdecimal() and len(panels) < 4 else None
        page, side = request.path_params["page"], request.query_params.get("side")
        rows = shelf_data(self.desk.book, page, number, side)
        return JSONResponse({"layouts": rows})

    async def choices(self, request: Request) -> Response:
        """What there is to choose from; places are looked at in a thread, for one may be far."""
        return JSONResponse(await asyncio.to_thread(choices_data, self.studio))

    async def format(self, request: Request) -> Response:
        """Each value of the page format with where it is from, and those that the issue changes."""
        loaded = self.desk.book.loaded
        if not loaded:
            raise InputError(Problem((), "the file cannot be read"))
        from guidekit.studio.difference import preset_differences  # for one window alone

        source = find_preset(loaded.preset_name, self.known, self.desk.path.parent, Origin())
        data = {"values": described(source), "own": _leaves(loaded.issue.format)}
        differs = [*preset_differences(source.preset, loaded.preset)]
        return JSONResponse(data | {"differs": differs, "moved_on": self.studio.since_lock()})

    async def states(self, request: Request) -> Response:
        """What became of the pages' files; they may be many, and are looked at in a thread."""
        loaded = self.desk.book.loaded
        if not loaded or not loaded.folder().is_dir():
            return JSONResponse({})
        return JSONResponse(await asyncio.to_thread(self.standing.look))

    async def drawing(self, request: Request) -> Response:
        """What is drawn on a page, small."""
        data = await asyncio.to_thread(self.standing.picture, request.path_params["page"])
        return Response(data, media_type="image/jpeg")

    async def attempt(self, request: Request) -> Response:
        """A page as it would be after a change; nothing is saved."""
        change = asked.read_change((await body_of(request)).get("change"))
        if not isinstance(change, asked.PageChange):
            raise InputError(Problem((), "this is not tried"))
        data: dict[str, Any] = {}
        if isinstance(change, asked.Drag):
            sheet = self.desk.book.sheet(change.page, change.side)
            data["at"] = rest_at(sheet, change, self.desk.book.unit).at
        return JSONResponse(data | sheet_data(self.desk.tried(change)))

    async def change(self, request: Request) -> Response:
        """A change, saved at once."""
        body = await body_of(request)
        change, seen, agreed = (body.get(key) for key in ("change", "seen", "agreed"))
        wish = asked.read_change(change)
        moved = await asyncio.to_thread(self.desk.change, wish, str(seen), str(agreed))
        return self._changed(moved)

    async def step(self, request: Request) -> Response:
        """The text before this one, or the one that was undone."""
        body = await body_of(request)
        by, seen, agreed = -1 if body.get("back") else 1, body.get("seen"), body.get("agreed")
        moved = await asyncio.to_thread(self.desk.step, by, str(seen), str(agreed))
        return self._changed(moved)

    def _changed(self, moved: Move | None) -> Response:
        """The book after a change, which all tabs are told of."""
        self.tabs.tell(self._now())
        data = book_data(self.desk)
        return JSONResponse(data | {"moved": plan_data(moved)} if moved else data)

    async def make(self, request: Request) -> Response:
        """Begin to make pages; how far it is comes with the events."""
        body = await body_of(request)
        formats = body.get("formats")
        if not isinstance(formats, list) or not 0 < len(formats) <= 20:
            raise InputError(Problem((), "no file format is chosen", "at least one"))
        names = [str(name) for name in formats]
        return self._begin(building(self.desk.path, self.known, names, _pages_in(body)))

    async def refresh(self, request: Request) -> Response:
        """Begin to put today's guides into drawings, or to look what that would change."""
        body = await body_of(request)
        pages, look = _pages_in(body), body.get("look") is True
        return self._begin(refreshing(self.desk.path, self.known, pages, look=look))

    async def put_back(self, request: Request) -> Response:
        """Begin to put back the drawings as they were before that."""
        return self._begin(putting_back(self.desk.path, self.known))

    def _begin(self, work: Work) -> Response:
        self.maker.start(work, self.tabs.telling())
        return JSONResponse({})

    async def open_folder(self, request: Request) -> Response:
        """Show the folder of the last build in the system's own way."""
        if self.maker.folder:
            webbrowser.open(self.maker.folder.resolve().as_uri())
        return JSONResponse({})

    async def events(self, request: Request) -> Response:
        """What happens, until the tab closes; the file may have changed since it was read."""
        return StreamingResponse(self.tabs.events(self._now), media_type="text/event-stream")

    def _now(self) -> Event:
        """What a tab is told that may have another version before it."""
        return {"event": "changed", "version": self.desk.book.version}

    async def watch(self) -> None:
        """Notice what happens to the file from outside."""
        from watchfiles import awatch  # loaded when the first picture is on its way

        name = self.desk.path.name
        async for found in awatch(self.desk.path.parent, recursive=False, debounce=100):
            if any(Path(path).name == name for _, path in found):
                try:
                    if await asyncio.to_thread(self.desk.read):
                        self.tabs.tell(self._now())
                except GuidekitError as error:
                    self.tabs.tell({"event": "trouble", "told": str(error)})


def told(answer: Answer) -> Answer:
    """The same answer; what is wrong becomes a short sentence with a status of its own."""

    async def asked_for(request: Request) -> Response:
        try:
            return await answer(request)
        except NotAgreedError as error:
            return JSONResponse({"plan": plan_data(error.plan)})
        except StaleError as error:
            return JSONResponse({"told": str(error), "stale": True}, 409)
        except InputError as error:
            return JSONResponse({"told": _sentences(error)}, 422)
        except UnsavedError as error:
            return JSONResponse({"told": str(error), "text": error.text}, 500)
        except MachineError as error:
            return JSONResponse({"told": str(error)}, 500)

    return asked_for


async def body_of(request: Request) -> dict[str, Any]:
    """The JSON of a request; raises `InputError`."""
    try:
        body = json.loads(await request.body())
    except (ValueError, RecursionError):
        body = None
    if not isinstance(body, dict):
        raise InputError(Problem((), "this is no JSON table"))
    return body


def _pages_in(body: dict[str, Any]) -> list[int] | None:
    """The page numbers that are asked for, None for all; raises `InputError`."""
    pages = body.get("pages")
    if pages is None or (isinstance(pages, list) and all(type(n) is int for n in pages)):
        return pages
    raise InputError(Problem((), "these are no pages"))


def _sentences(error: InputError) -> str:
    return " ".join(dict.fromkeys(str(problem) for problem in error.problems[:3]))


def _leaves(values: dict[str, Any], prefix: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    for key, value in values.items():
        if isinstance(value, dict):
            found |= _leaves(value, f"{prefix}{key}.")
        else:
            found[prefix + key] = str(value)
    return found
