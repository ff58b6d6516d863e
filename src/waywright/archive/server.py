"""The shared archive of a department: a PostgreSQL database named by its address.

Accounts are the database's own roles, and the password comes from where PostgreSQL's clients look for it (a password
file or the environment); Waywright keeps none. Over a network the link is encrypted and the server has to prove who it
is, whatever the address says; only a server on the same computer may do without.
"""

from __future__ import annotations

import ipaddress
from typing import Any

from sqlalchemy import URL, Engine, create_engine, make_url
from sqlalchemy.exc import ArgumentError

from waywright.errors import ArchiveError, MissingPart

_SCHEMES = ("postgresql", "postgres")
_STRICT = ("verify-full",)
_CONNECT_S = 10


def is_address(place: object) -> bool:
    """Whether a place names a server rather than a file."""
    return str(place).partition("://")[0] in _SCHEMES and "://" in str(place)


def shown(address: str) -> str:
    """An address without its password."""
    return _url(address).set(drivername="postgresql").render_as_string(hide_password=True)


def server_engine(address: str) -> Engine:
    """An engine on a server. Raises ArchiveError where the address would send readings over a network in the clear."""
    url = _url(address)
    try:
        import psycopg  # noqa: F401 - SQLAlchemy needs it; said here in plain words where it is missing
    except ImportError as error:
        raise MissingPart("keep.missing_department") from error
    return create_engine(
        url.set(drivername="postgresql+psycopg"),
        connect_args=_safe(url) | {"connect_timeout": _CONNECT_S, "application_name": "waywright"},
        pool_pre_ping=True,
    )


def _url(address: str) -> URL:
    try:
        return make_url(address)
    except (ArgumentError, ValueError):
        raise ArchiveError("archive.bad_address", address=address.rpartition("@")[2]) from None


def _safe(url: URL) -> dict[str, Any]:
    """Encryption and a proven server, unless the server is on this computer."""
    if _is_here(url):
        return {}
    said = url.query.get("sslmode")
    if said is not None and said not in _STRICT:
        raise ArchiveError("archive.not_encrypted", address=shown(str(url)), sslmode=str(said))
    return {"sslmode": "verify-full"} | ({} if "sslrootcert" in url.query else {"sslrootcert": "system"})


def _is_here(url: URL) -> bool:
    hosts = [url.host or ""] + [str(url.query[key]) for key in ("host", "hostaddr") if key in url.query]
    return all(_is_loopback(host) for host in hosts)


def _is_loopback(host: str) -> bool:
    if host in {"", "localhost"} or host.startswith("/"):
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
