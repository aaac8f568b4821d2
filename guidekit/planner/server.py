"""What the browser can ask for, one function each; see `guidekit.planner.guard` for who may."""

from __future__ import annotations

import asyncio
import webbrowser
from mimetypes import guess_type
from pathlib import Path
from typing import TYPE_CHECKING, Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from guidekit.errors import GuidekitError, InputError, Problem
from guidekit.planner import changes as asked
from guidekit.planner.asking import Answer, body_of, formats_in, pages_in, told
from guidekit.planner.book_view import book_data
from guidekit.planner.choices import choices_data
from guidekit.planner.desk import Desk
from guidekit.planner.format_view import format_data
from guidekit.planner.making import Maker, Work, building, putting_back, refreshing
from guidekit.planner.moving import plan_data
from guidekit.planner.page_view import page_data, sheet_data, shelf_data
from guidekit.planner.shaping import rest_at
from guidekit.planner.standing import Standing
from guidekit.planner.tabs import Event, Tabs
from guidekit.planner.watching import signs_of
from guidekit.studio.catalogue import Studio

if TYPE_CHECKING:
    from guidekit.drawn.moving.renaming import Move

STATIC = Path(__file__).with_name("static")


class Planner:
    """One issue on the desk, and the tabs that look at it."""

    def __init__(self, path: Path, studio: Studio):
        self.studio = studio
        self.known = studio.catalogue
        self.desk = Desk(path, self.known)
        self.maker = Maker()
        self.standing = Standing(self.desk.path, self.known)
        self.tabs = Tabs()
        self.trouble = ""  # why the file cannot be read just now
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
        return JSONResponse(format_data(self.desk.book, self.studio))

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
        formats, pages = formats_in(body), pages_in(body)
        return self._begin(building(self.desk.path, self.known, formats, pages))

    async def refresh(self, request: Request) -> Response:
        """Begin to put today's guides into drawings, or to look what that would change."""
        body = await body_of(request)
        pages, look = pages_in(body), body.get("look") is True
        return self._begin(refreshing(self.desk.path, self.known, pages, look=look))

    async def put_back(self, request: Request) -> Response:
        """Begin to put back the drawings as they were before that."""
        return self._begin(putting_back(self.desk.path, self.known))

    def _begin(self, work: Work) -> Response:
        """Begin; all tabs hear of it: the folder is one, and a tab may have been loaded anew."""
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
        return {"event": "now", "version": self.desk.book.version, "trouble": self.trouble}

    async def watch(self) -> None:
        """Notice what happens to the file from outside, and tell the tabs."""
        async for _ in signs_of(self.desk.path):
            is_new, trouble = False, ""
            try:
                is_new = await asyncio.to_thread(self.desk.read)
            except GuidekitError as error:
                trouble = str(error)
            if is_new or trouble != self.trouble:
                self.trouble = trouble
                self.tabs.tell(self._now())
