"""How the browser asks and is answered: JSON that is read, and what is wrong as a sentence."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from guidekit.errors import InputError, MachineError, Problem
from guidekit.planner.desk import UnsavedError
from guidekit.planner.issue_file import StaleError
from guidekit.planner.moving import NotAgreedError, plan_data

Answer = Callable[[Request], Awaitable[Response]]


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


def pages_in(body: dict[str, Any]) -> list[int] | None:
    """The page numbers that are asked for, None for all; raises `InputError`."""
    pages = body.get("pages")
    if pages is None or (isinstance(pages, list) and all(type(n) is int for n in pages)):
        return pages
    raise InputError(Problem((), "these are no pages"))


def formats_in(body: dict[str, Any]) -> list[str]:
    """The file formats that are asked for; raises `InputError`."""
    formats = body.get("formats")
    if not isinstance(formats, list) or not 0 < len(formats) <= 20:
        raise InputError(Problem((), "no file format is chosen", "at least one"))
    return [str(name) for name in formats]


def _sentences(error: InputError) -> str:
    return " ".join(dict.fromkeys(str(problem) for problem in error.problems[:3]))
