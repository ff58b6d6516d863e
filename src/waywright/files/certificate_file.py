"""A digital calibration certificate (DCC, XML, versions 2 and 3 with D-SI units): what a description can use of it.

Read are the number, the day of the calibration, the serial numbers of the item, and every quantity with its unit,
expanded uncertainty and coverage factor. A table of errors is a list of indicated values and a list of errors of the
same length, told apart by their ``refType`` (``basic_indicatedValue``, ``basic_measurementError``) or their names.
Signatures of the certificate are not checked.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from xml.etree.ElementTree import Element

from waywright.errors import BadInput
from waywright.files.safe_xml import read_xml
from waywright.quantities import Kind

MOST_VALUES = 20_000
_PREFIX = {"": 1.0, "nano": 1e-9, "micro": 1e-6, "milli": 1e-3, "centi": 1e-2, "kilo": 1e3}
_ANGLE = {"radian": 1.0, "degree": math.pi / 180, "arcsecond": math.pi / 648_000, "arcminute": math.pi / 10_800}
_INDICATED = re.compile(r"indicat|anzeige", re.IGNORECASE)
_ERROR = re.compile(r"measurementError|error|deviation|abweichung|correction", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CertifiedQuantity:
    """Values of one kind in the inside unit (um, um/m, mm, degC), with expanded uncertainties and k where stated."""

    name: str
    ref_type: str
    kind: Kind
    values: tuple[float, ...]
    expanded: tuple[float, ...] = ()
    coverage_factor: float | None = None

    @property
    def said(self) -> str:
        """What tells quantities apart: their type and their name."""
        return f"{self.ref_type} {self.name}"


@dataclass(frozen=True, slots=True)
class CertificateFile:
    """What a certificate says. ``serials`` are all identifications of the calibrated item."""

    number: str
    date: str | None
    serials: tuple[str, ...]
    item: str | None
    quantities: tuple[CertifiedQuantity, ...]

    def table(self, kind: Kind) -> tuple[tuple[float, float], ...]:
        """(indicated, error) in the inside unit of a kind, rising; empty where there is no such table."""
        own = [each for each in self.quantities if each.kind is kind and len(each.values) > 1]
        indicated = next((each for each in own if _INDICATED.search(f"{each.ref_type} {each.name}")), None)
        error = next(
            (each for each in own if each is not indicated and _ERROR.search(f"{each.ref_type} {each.name}")), None
        )
        if indicated is None or error is None or len(indicated.values) != len(error.values):
            return ()
        return tuple(sorted(zip(indicated.values, error.values, strict=True)))

    def uncertainty(self, kind: Kind) -> tuple[float, float | None] | None:
        """The largest expanded uncertainty of a kind with its coverage factor, or None."""
        found = [
            (max(each.expanded), each.coverage_factor)
            for each in self.quantities
            if each.kind is kind and each.expanded
        ]
        return max(found, key=lambda each: each[0], default=None)


def read_certificate(path: Path) -> CertificateFile:
    """Read a certificate. Raises BadInput for what is none, and for numbers that cannot be."""
    root = read_xml(path)
    if _local(root.tag) != "digitalCalibrationCertificate":
        raise BadInput("certificate.not_a_certificate", file=path.name, found=_local(root.tag)[:40])
    number = _text(_first(root, "uniqueIdentifier"))
    if not number:
        raise BadInput("certificate.no_number", file=path.name)
    days = [_text(_first(root, name)) for name in ("endPerformanceDate", "beginPerformanceDate", "issueDate")]
    day = next((each[:10] for each in days if each and re.fullmatch(r"\d{4}-\d\d-\d\d.*", each)), None)
    item = _first(root, "item")
    quantities = tuple(_quantities(path.name, root))
    if sum(len(each.values) for each in quantities) > MOST_VALUES:
        raise BadInput("certificate.too_many_values", file=path.name, limit=MOST_VALUES)
    return CertificateFile(number[:200], day, _serials(item), _name(item), quantities)


def _quantities(file: str, root: Element) -> Iterator[CertifiedQuantity]:
    for quantity in (each for each in root.iter() if _local(each.tag) == "quantity"):
        for holder in quantity:
            if _local(holder.tag) in ("real", "realListXMLList"):
                found = _quantity(file, quantity, holder)
                if found is not None:
                    yield found


def _quantity(file: str, quantity: Element, holder: Element) -> CertifiedQuantity | None:
    """None for a unit that no channel can have (volts, percent)."""
    values = _numbers(file, _text(_first(holder, "valueXMLList")) or _text(_first(holder, "value")))
    unit = (_text(_first(holder, "unitXMLList")) or _text(_first(holder, "unit"))).split()
    kind_factor = _kind_of(unit[0]) if unit else None
    if kind_factor is None or not values:
        return None
    kind, factor = kind_factor
    names = ("uncertaintyXMLList", "valueExpandedMUXMLList", "uncertainty", "valueExpandedMU")
    expanded = _numbers(file, next((text for name in names if (text := _text(_first(holder, name)))), ""))
    k = _numbers(file, _text(_first(holder, "coverageFactorXMLList")) or _text(_first(holder, "coverageFactor")))
    return CertifiedQuantity(
        _name(quantity) or "",
        quantity.get("refType", ""),
        kind,
        tuple(value * factor for value in values),
        tuple(abs(value) * factor for value in expanded),
        k[0] if k else None,
    )


def _kind_of(unit: str) -> tuple[Kind, float] | None:
    r"""Kind and factor to the inside unit of a D-SI unit such as ``\micro\metre\per\metre``."""
    top, _, below = unit.partition("\\per")
    if below:
        up, down = _metres(top), _metres(below)
        return None if up is None or down is None else (Kind.ANGLE, up / down * 1e6)
    metres = _metres(top)
    if metres is not None:
        return Kind.DISPLACEMENT, metres * 1e6
    words = [word for word in top.split("\\") if word]
    if words and words[-1] in _ANGLE and len(words) <= 2:
        prefix = _PREFIX.get(words[0] if len(words) == 2 else "")
        return None if prefix is None else (Kind.ANGLE, prefix * _ANGLE[words[-1]] * 1e6)
    return (Kind.TEMPERATURE, 1.0) if words == ["degreecelsius"] else None


def _metres(unit: str) -> float | None:
    words = [word for word in unit.split("\\") if word]
    if not words or words[-1] != "metre" or len(words) > 2:
        return None
    return _PREFIX.get(words[0] if len(words) == 2 else "")


def _numbers(file: str, text: str) -> tuple[float, ...]:
    found = []
    for word in text.split():
        try:
            value = float(word)
        except ValueError as problem:
            raise BadInput("certificate.bad_number", file=file, found=word[:40]) from problem
        if not math.isfinite(value) or abs(value) > 1e12:
            raise BadInput("certificate.bad_number", file=file, found=word[:40])
        found.append(value)
    return tuple(found)


def _serials(item: Element | None) -> tuple[str, ...]:
    values = [] if item is None else [each for each in item.iter() if _local(each.tag) == "value"]
    return tuple(dict.fromkeys(text[:80] for each in values if (text := _text(each))))


def _name(holder: Element | None) -> str | None:
    name = None if holder is None else next((each for each in holder if _local(each.tag) == "name"), None)
    return _text(_first(name, "content"))[:200] or None if name is not None else None


def _first(root: Element | None, name: str) -> Element | None:
    return None if root is None else next((each for each in root.iter() if _local(each.tag) == name), None)


def _text(element: Element | None) -> str:
    return "" if element is None else " ".join((element.text or "").split())


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]
