"""What a progress bar counts."""

TEXT = {
    "progress.check": "checking readings",
    "progress.copy": "copying pages",
    "progress.lines": "computing lines",
    "progress.subject": "things",
    "progress.record": "descriptions",
    "progress.content": "attached files",
    "progress.reading": "passes with readings",
    "progress.stream_block": "passes with streams",
    "progress.pass_event": "events",
}
