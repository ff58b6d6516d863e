"""Files that a browser or a program takes away."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import Response


def download(name: str, content: bytes, media: str) -> Response:
    """Bytes to be kept under a name, whatever letters it has (RFC 6266)."""
    shown = {"Content-Disposition": f"attachment; filename*=utf-8''{quote(name, safe='')}", "Cache-Control": "no-store"}
    return Response(content, media_type=media, headers=shown)
