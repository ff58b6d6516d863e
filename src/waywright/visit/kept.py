"""What else an archive keeps: sites, instruments, photos and other files, results, issued reports."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID


@dataclass(frozen=True, slots=True)
class Site:
    """A place where machines stand. ``access`` is what the next technician should know (crane, door, hours)."""

    id: UUID
    name: str
    address: str | None = None
    access: str | None = None
    invented: bool = False


@dataclass(frozen=True, slots=True)
class Certificate:
    """A calibration certificate. ``attachment_id`` is its scan; the uncertainty is stated as in the certificate."""

    number: str
    issued: str | None = None
    due: str | None = None
    issuer: str | None = None
    value: float | None = None
    unit: str | None = None
    expanded_uncertainty: float | None = None
    coverage_factor: float | None = None
    probability: float | None = None
    attachment_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class KeptInstrument:
    """An instrument of the house, known by its serial number, with every certificate it has had."""

    id: UUID
    name: str
    title: str
    serial: str | None = None
    certificates: tuple[Certificate, ...] = ()

    def certificate_on(self, day: str) -> Certificate | None:
        """The certificate that holds on a day (ISO date): of those issued by then the last, due or not."""
        issued = [certificate for certificate in self.certificates if (certificate.issued or "") <= day]
        return max(issued, key=lambda certificate: certificate.issued or "", default=None)


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file that belongs to a machine, visit, line, set-up, instrument or report; its bytes are kept beside it.

    ``role`` is "photo", "certificate", "contract", "report" or "other".
    """

    id: UUID
    subject_id: UUID
    name: str
    media_type: str
    size: int
    sha256: str
    role: str = "other"
    caption: str | None = None


@dataclass(frozen=True, slots=True)
class KeptResult:
    """A result as it was computed: of a line, for one quantity and one reference line.

    ``value`` is in ``unit``. ``readings`` is a SHA-256 over all that it depends on: readings that count, what the
    channels mean, plan, rules. ``algorithm`` is the version that computed it, ``figures`` are further values by name
    (bow_um, slope_um_per_m ...), units in the names. The verdict and the limit are those of the plan at that time.
    """

    id: UUID
    line_id: UUID
    quantity: str
    reference: str
    value: float
    unit: str
    expanded_uncertainty: float | None
    coverage_factor: float | None
    probability: float | None
    algorithm: str
    readings: str
    made_utc: datetime
    limit: float | None = None
    rule: str | None = None
    verdict: str | None = None
    information_only: bool = True
    figures: dict[str, float | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class IssuedReport:
    """A report that has left the house: its SHA-256 and where its bytes are kept."""

    id: UUID
    visit_id: UUID
    title: str
    sha256: str
    issued_utc: datetime
    attachment_id: UUID | None = None
    line_ids: tuple[UUID, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)
