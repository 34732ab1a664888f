"""What a finding tells and asks for, as one text."""

from __future__ import annotations

from welltold.interpretation import Finding


def told(finding: Finding) -> str:
    return " ".join(message.text for message in finding.why)


def steps(finding: Finding) -> str:
    return " ".join(message.text for message in finding.do)
