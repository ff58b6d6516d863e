"""A server in a process of its own, a support about to be turned; readings come as lines on the standard input."""

from __future__ import annotations

import asyncio
import json
import sys
import threading
from pathlib import Path

import uvicorn

from made_correct import Parked, machine_on, measured
from waywright.jobs.correct import CorrectionOrder, correction_of_line
from waywright.jobs.measured import measured_line
from waywright.jobs.rounds import confirm, keep_plan
from waywright.web.app import make_app
from waywright.web.desk import Desk

ANSWERS = ("main switch off, padlock 14", "no vertical axis here", "cribs of oak under both ends")


def main(path: Path) -> None:
    """Print address, line and the place to park at; then serve, reading ``[position_mm, height_um]`` a line."""
    machine = machine_on(4)
    line = measured(path, machine)
    desk = Desk(path)
    found = measured_line(desk.archive, line)
    plan = correction_of_line(found, CorrectionOrder(goal_um=15.0), None)
    made = keep_plan(desk.archive, found, plan, desk.clock)
    answers = iter(ANSWERS)
    for each in made.to_confirm:
        answer = "0.5 mm" if each.key.endswith("makers_limit") else next(answers)
        made = confirm(desk.archive, made, each.key, answer, desk.clock)
    desk.adjusting.remember(made, plan)
    parked = Parked(desk, machine, line)
    at_mm = next(each.clear_mm for each in plan.sheet.instructions if each.support == made.moves[0].support)
    parked.reads(at_mm, 3.0)
    server = uvicorn.Server(uvicorn.Config(make_app(desk), port=0, log_level="warning", ws="websockets-sansio"))

    async def serve() -> None:
        serving = asyncio.create_task(server.serve())
        while not server.started:
            await asyncio.sleep(0.02)
        port = server.servers[0].sockets[0].getsockname()[1]
        print(json.dumps({"address": f"http://127.0.0.1:{port}/", "line": str(line.id), "at_mm": at_mm}), flush=True)
        await serving

    def listen() -> None:
        for said in sys.stdin:
            parked.reads(*json.loads(said))
        server.should_exit = True

    threading.Thread(target=listen, daemon=True).start()
    asyncio.run(serve())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
