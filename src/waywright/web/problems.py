"""What goes wrong, as an answer that programs can read and people too."""

from __future__ import annotations

from fastapi import FastAPI, Request, Response
from fastapi.responses import JSONResponse

from waywright.errors import WaywrightError

_STATUS = {"archive.unknown": 404, "jobs.no_line": 404, "archive.written_meanwhile": 412}


def answer_problems(app: FastAPI) -> None:
    """A key and a sentence for every error of ours. To be called before the first answer: none is added after it."""

    @app.exception_handler(WaywrightError)
    async def said(_: Request, error: WaywrightError) -> Response:
        problem = {"key": error.key, "sentence": str(error)}
        return JSONResponse(problem, _STATUS.get(error.key, 409))
