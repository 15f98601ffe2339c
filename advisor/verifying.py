"""Every run is checked by the stand-alone verifier before anybody sees it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from advisor import verifier
from advisor.certificate import certificate
from advisor.records import Advice


class VerificationError(RuntimeError):
    """The plain matcher's run was refused as well: the program contradicts itself."""


def check_run(advice: Advice, plainly: Callable[[], Advice]) -> Advice:
    """The advice with `checked` said; on a refusal the plain matcher's, with the reason.

    Raises
    ------
    VerificationError : when that run is refused too; it lists the places
    """
    report = verifier.verify(certificate(advice))
    if report.passed:
        return replace(advice, run={**advice.run, "checked": True})
    again = plainly()
    second = verifier.verify(certificate(again))
    if not second.passed:
        raise VerificationError("the check of this run failed: " + "; ".join(second.refusals[:5]))
    return replace(again, run={**again.run, "checked": True, "fell_back": True,
                               "why": "; ".join(report.refusals[:3])})
