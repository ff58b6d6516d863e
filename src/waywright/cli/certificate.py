"""``waywright instrument certificate``: a digital calibration certificate into a description."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def certificate(
    description: Path,
    certificate: Path,
    *,
    to: Path | None = None,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Bring a digital calibration certificate (DCC, XML) into an instrument's description.

    Number, date, expanded uncertainties with their k, and a table of errors where the certificate has one. Everything
    else in the description stays word for word. The certificate's own signature is not checked.

    Parameters
    ----------
    description
        The instrument description file (TOML).
    certificate
        The certificate.
    to
        Write here instead of into the description.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.certificate import bring_in_certificate
    from waywright.wording import text

    found = bring_in_certificate(description, certificate, to)
    if json:
        show.print_json(found)
        return
    said = [text("certificate.uncertainty", name=name, value=value) for name, value in found.uncertainties.items()]
    if found.linearity:
        said.append(text("certificate.linearity", channels=", ".join(found.linearity)))
    what = "; ".join(said) or text("certificate.nothing")
    day = found.date or text("certificate.no_date")
    page = show.console()
    facts = {"number": found.number, "date": day, "file": str(to or description), "what": what}
    page.print(text("certificate.brought_in", **facts), markup=False)
    if found.other_serial:
        page.print(text("certificate.other_serial", serials=", ".join(found.other_serial)), markup=False)
    page.print(text("certificate.due"))
