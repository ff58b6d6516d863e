"""XML from elsewhere: no document types, no entities, nothing fetched; size, depth and number of elements bounded."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from waywright.errors import BadInput

if TYPE_CHECKING:
    from collections.abc import Mapping

LARGEST_BYTES, DEEPEST, MOST_ELEMENTS = 20_000_000, 60, 200_000


def read_xml(path: Path) -> Element:
    """The root of an XML file. Raises BadInput for what cannot be read, is too large, or is built to harm."""
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(path), reason=reason) from problem
    if len(data) > LARGEST_BYTES:
        raise BadInput("foreign.too_large", file=path.name, limit_mb=LARGEST_BYTES / 1e6)
    return parsed(data, path.name)


def parsed(data: bytes, name: str) -> Element:
    """The root of XML. Raises BadInput for what is no XML or is built to harm."""
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import DefusedXMLParser

    parser = DefusedXMLParser(target=_Bounded(name), forbid_dtd=True, forbid_entities=True, forbid_external=True)
    try:
        parser.feed(data)
        root = parser.close()
    except DefusedXmlException as problem:
        raise BadInput("certificate.entities", file=name) from problem
    except (ParseError, ValueError, LookupError) as problem:
        raise BadInput("certificate.not_xml", file=name, detail=str(problem)[:120]) from problem
    if not isinstance(root, Element):
        raise BadInput("certificate.not_xml", file=name, detail="no element")
    return root


class _Bounded(TreeBuilder):
    """A tree that stops growing in time."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name, self._depth, self._count = name, 0, 0

    def start(self, tag: str, attrs: Mapping[str, str], /) -> Element:
        """One element more."""
        self._depth += 1
        self._count += 1
        if self._depth > DEEPEST or self._count > MOST_ELEMENTS:
            raise BadInput("certificate.too_deep", file=self._name, deepest=DEEPEST, most=MOST_ELEMENTS)
        return super().start(tag, dict(attrs))

    def end(self, tag: str, /) -> Element:
        """One element closed."""
        self._depth -= 1
        return super().end(tag)
