"""A duplicate that was sent to the laboratory as a bottle of its own is a sample."""

from __future__ import annotations

from welltold_parsers.layout.blocks import second_bottle


def test_a_duplicate_with_a_number_and_an_hour_of_its_own_is_a_sample() -> None:
    bottle = {"lab_id": "24D0193-003", "client_id": "RW-2114 DUP", "collected": "23-Apr-24 11:05"}
    assert second_bottle(bottle)
    assert not second_bottle(bottle | {"lab_id": "24D0193-002 DUP"})
    assert not second_bottle({k: v for k, v in bottle.items() if k != "collected"})
    assert not second_bottle(bottle | {"client_id": "RW-2114 MS"})
