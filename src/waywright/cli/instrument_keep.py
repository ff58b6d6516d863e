"""``waywright instrument keep``: instruments of the house and their certificates."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

from waywright.cli.options import ArchivePlace, Json, opened_archive


def add_to(commands: App) -> None:
    """Add the command of this file."""
    commands.command(keep)


def keep(
    title: str,
    /,
    *,
    serial: str,
    certificate: str | None = None,
    issued: str | None = None,
    due: str | None = None,
    issuer: str | None = None,
    expanded_uncertainty: float | None = None,
    unit: str | None = None,
    k: float | None = None,
    scan: Path | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Keep an instrument of the house, also one that speaks to no computer, or a new certificate of one.

    Typed lines and sheets name it by its serial number.

    Parameters
    ----------
    title
        What it is, for example "frame level 200 mm, 0.02 mm/m".
    serial
        Its serial number.
    certificate
        The number of its calibration certificate.
    issued
        The certificate's date, for example 2026-03-01.
    due
        When it is due again.
    issuer
        Who calibrated it.
    expanded_uncertainty
        The expanded uncertainty as the certificate states it, in --unit.
    unit
        The unit of that uncertainty: um, um_per_m, mm or degc.
    k
        The coverage factor of that uncertainty.
    scan
        The certificate as a file; it is copied into the archive.
    by
        Who keeps this; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.instruments_said import InstrumentSaid, keep_instrument
    from waywright.jobs.people import who
    from waywright.visit import Certificate
    from waywright.wording import text

    paper = None
    if certificate is not None:
        stated = {"unit": unit, "expanded_uncertainty": expanded_uncertainty, "coverage_factor": k}
        paper = Certificate(certificate, issued, due, issuer, **stated)  # type: ignore[arg-type]
    with opened_archive(archive, create=True) as opened:
        said = InstrumentSaid(title, serial, paper, scan)
        kept = keep_instrument(opened, said, who(opened, by))
    show.answer(kept, text("keep.instrument_kept", title=kept.title, papers=len(kept.certificates)), json)
