"""Rows by what they are, after a number."""

TEXT = {
    "progress_counted.subject": "things",
    "progress_counted.record": "descriptions",
    "progress_counted.content": "attached files",
    "progress_counted.reading": "readings",
    "progress_counted.stream_block": "blocks of streams",
    "progress_counted.pass_event": "events",
}
