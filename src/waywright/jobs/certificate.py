"""A digital calibration certificate brought into an instrument's description: number, date, uncertainty, linearity."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from waywright.errors import BadInput
from waywright.files.certificate_file import CertificateFile, read_certificate
from waywright.files.table_writer import write_text
from waywright.instruments import parse_instrument, read_instrument
from waywright.instruments.description import KIND, Channel
from waywright.quantities import Kind, unit

_SUFFIX = {
    Kind.DISPLACEMENT: "um", Kind.ANGLE: "um_per_m", Kind.POSITION: "mm", Kind.TEMPERATURE: "degc",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """What came into a description; ``other_serial`` where the certificate is of another instrument by its number."""

    number: str
    date: str | None
    uncertainties: dict[str, float]
    linearity: tuple[str, ...]
    other_serial: tuple[str, ...] = ()


def bring_in_certificate(description: Path, certificate: Path, target: Path | None = None) -> BroughtIn:
    """Write the certificate into the description (or a copy of it), everything else staying word for word.

    Raises BadInput for a file that cannot be used; the description is then as it was.
    """
    instrument, found = read_instrument(description), read_certificate(certificate)
    described = instrument.description
    text = description.read_text(encoding="utf-8")
    uncertainties = _uncertainties(found, {KIND[each.kind] for each in described.channel})
    text = _with_certificate(text, found, uncertainties)
    channels = []
    for each in described.channel:
        table = _table(found, each)
        if table:
            text = _with_linearity(text, each.name, table)
            channels.append(each.name)
    parse_instrument(text.encode(), description.name)  # nothing is written that cannot be read back
    write_text(target or description, text)
    other = found.serials if described.serial and found.serials and described.serial not in found.serials else ()
    return BroughtIn(found.number, found.date, uncertainties, tuple(channels), other)


def _uncertainties(found: CertificateFile, kinds: set[Kind]) -> dict[str, float]:
    made: dict[str, float] = {}
    for kind in sorted(kinds):
        looked = Kind.DISPLACEMENT if kind is Kind.POSITION else kind
        stated = found.uncertainty(looked)
        if stated is not None and stated[0] > 0:
            made[f"expanded_uncertainty_{_SUFFIX[kind]}"] = stated[0] / (1000.0 if kind is Kind.POSITION else 1.0)
            if stated[1] is not None:
                made["k"] = stated[1]
    return made


def _table(found: CertificateFile, channel: Channel) -> tuple[tuple[float, float], ...]:
    """In the unit of the channel."""
    kind = KIND[channel.kind]
    inside = found.table(Kind.DISPLACEMENT if kind is Kind.POSITION else kind)
    own = unit(Kind.DISPLACEMENT if kind is Kind.POSITION else kind, channel.unit)
    return tuple((own.outside(place), own.outside(error)) for place, error in inside)


def _with_certificate(text: str, found: CertificateFile, uncertainties: dict[str, float]) -> str:
    """The [certificate] table anew; the due date, which no certificate states, is kept."""
    own = re.search(r"(?ms)^\[certificate\]\s*\n(.*?)(?=^\[|\Z)", text)
    due = re.search(r"(?m)^\s*due\s*=.*$", own[1]) if own else None
    lines = ["[certificate]", f"number = {_quoted(found.number)}", *([f"date = {found.date}"] if found.date else [])]
    lines += [due[0].strip()] if due else []
    lines += [f"{name} = {value!r}" for name, value in uncertainties.items()]
    table = "\n".join(lines) + "\n\n"
    if own:
        return text[: own.start()] + table + text[own.end() :]
    first = re.search(r"(?m)^\[", text)
    at = first.start() if first else len(text)
    return text[:at] + table + text[at:]


def _with_linearity(text: str, name: str, table: tuple[tuple[float, float], ...]) -> str:
    """The table of errors of one channel, in place of the one that was there."""
    rows = ", ".join(f"[{place!r}, {error!r}]" for place, error in table)
    line = f"linearity = [{rows}]\n"
    for part in re.finditer(r"(?ms)^\[\[channel\]\]\s*\n(.*?)(?=^\[|\Z)", text):
        if re.search(rf'(?m)^\s*name\s*=\s*["\']{re.escape(name)}["\']', part[1]):
            body = re.sub(r"(?ms)^\s*linearity\s*=\s*\[.*?\]\s*\]\s*\n", "", part[1])
            return text[: part.start(1)] + line + body + text[part.end(1) :]
    raise BadInput("certificate.no_channel", channel=name)


def _quoted(text: str) -> str:
    kept = "".join(sign if sign.isprintable() else " " for sign in text)
    return '"' + kept.replace("\\", "\\\\").replace('"', '\\"') + '"'
