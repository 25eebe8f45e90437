"""What of a logbook is about to become public, judged from the repository it lies in. Reads alone; asks no network."""

from __future__ import annotations

from generator.doctor.findings import Finding
from generator.doctor.looking import findings_of

__all__ = ["Finding", "findings_of"]
