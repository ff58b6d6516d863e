"""What PDF/A-3a (ISO 19005-3) and PDF/UA-1 (ISO 14289-1) ask for and can be seen in the file itself.

Clauses are named from memory. It is less than a full validator checks.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace

import pikepdf
import pytest
from hr6_example import report_content

from waywright.report import pdf_bytes

FORBIDDEN = ("/JavaScript", "/Launch", "/Movie", "/Sound", "/ImportData", "/ResetForm")


@pytest.fixture(scope="module", params=["en", "en+de"])
def document(request: pytest.FixtureRequest) -> Iterator[pikepdf.Pdf]:
    data = pdf_bytes(replace(report_content(1), language=request.param))
    with pikepdf.open(io.BytesIO(data)) as opened:
        yield opened


def dictionaries(document: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [each for each in document.objects if isinstance(each, pikepdf.Dictionary | pikepdf.Stream)]


def test_the_metadata_name_both_standards(document: pikepdf.Pdf) -> None:
    """6.6.4 of ISO 19005-3, 5 of ISO 14289-1."""
    metadata = document.open_metadata()
    assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"], metadata["pdfuaid:part"]) == ("3", "A", "1")
    assert "/Filter" not in document.Root.Metadata


def test_colours_have_an_output_intent_with_its_profile(document: pikepdf.Pdf) -> None:
    """6.2.3: one intent for PDF/A, its ICC profile inside; "acsp" is the mark of a profile (ISO 15076-1, 7.2)."""
    intents = [each for each in document.Root.OutputIntents if each.S == "/GTS_PDFA1"]
    assert len(intents) == 1
    assert intents[0].DestOutputProfile.read_bytes()[36:40] == b"acsp"


def test_every_page_hangs_in_the_tree_of_tags(document: pikepdf.Pdf) -> None:
    """6.7: marked, with a language, every page with its place in the parent tree; figures have words."""
    root = document.Root
    assert root.MarkInfo.Marked
    assert str(root.Lang)
    assert "/ParentTree" in root.StructTreeRoot
    assert all("/StructParents" in page for page in document.pages)
    tags = [each for each in dictionaries(document) if each.get("/Type") == "/StructElem" or "/Alt" in each]
    figures = [each for each in tags if each.get("/S") == "/Figure"]
    assert figures
    assert all(str(each.get("/Alt", "")) for each in figures)


def test_fonts_lie_inside(document: pikepdf.Pdf) -> None:
    """6.2.11.4."""
    described = [each for each in dictionaries(document) if "/FontName" in each]
    assert described
    assert all("/FontFile3" in each or "/FontFile2" in each for each in described)


def test_attached_files_say_what_they_are_to_the_document(document: pikepdf.Pdf) -> None:
    """6.8: kind, relationship, both names, and listed as associated."""
    associated = {str(each.UF) for each in document.Root.AF}
    assert associated
    for each in (found for found in dictionaries(document) if "/EF" in found):
        assert str(each.UF) in associated
        assert str(each.F) == str(each.UF)
        assert str(each.AFRelationship) in ("/Data", "/Source", "/Alternative", "/Supplement")
        assert "/Subtype" in each.EF.F


def test_nothing_is_locked_runs_or_stands_elsewhere(document: pikepdf.Pdf) -> None:
    """6.1.3, 6.6.1: no encryption, no actions that run something, no content of streams outside of the file."""
    assert not document.is_encrypted
    assert "/ID" in document.trailer
    for each in dictionaries(document):
        assert str(each.get("/S", "")) not in FORBIDDEN
        assert "/JS" not in each
        assert not (isinstance(each, pikepdf.Stream) and "/F" in each)
        assert "/LZWDecode" not in str(each.get("/Filter", ""))
