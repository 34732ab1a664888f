"""Data files whose heads are bare symbols of elements, some of which mean something else alone."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv

_SYMBOLS = "Al,As,B,Ba,Ca,Cd,Co,Cr,Cu,Er,Fe,In,La,Mg,Mn,Na,Nd,Ni,Pb,Sc,Se,Sr,U,W,Y,Zn"
_COUNT = _SYMBOLS.count(",") + 1
_VALUES = [f"{n}.5" for n in range(_COUNT)]
_ROW = ",".join(_VALUES)
_KNOWN = {
    "Al": "aluminum",
    "As": "arsenic",
    "La": "lanthanum",
    "Pb": "lead",
    "Sc": "scandium",
    "Se": "selenium",
    "W": "tungsten",
    "Y": "yttrium",
    "Zn": "zinc",
    "Er": None,
    "In": None,
    "Nd": None,
}


@pytest.mark.parametrize(
    "head",
    [
        f"site,utm_x,date,{_SYMBOLS}\n",
        "," * 3 + ",".join(["ICP-14L"] * _COUNT) + f"\nSAMPLE,Recvd Wt.,date,{_SYMBOLS}\n"
        "DESCRIPTION,kg,," + ",".join(["ug/L"] * _COUNT) + "\n",
        f"Well,Aquifer,Sampled,{_SYMBOLS}\n,,," + ",".join(["ug/L"] * _COUNT) + "\n",
        f"Sample ID,Depth,Date,pH,{_SYMBOLS}\n",
    ],
)
def test_every_symbol_of_many_is_the_head_of_results(head: str) -> None:
    more = "7.1," if ",pH," in head else ""
    rows = "".join(
        f"{name},0.5,2026-03-0{day},{more}{_ROW}\n" for day, name in ((1, "A-1"), (2, "B-2"))
    )
    reading = read_csv(head + rows)
    assert [s.id or s.point for s in reading.samples] == ["A-1", "B-2"]
    for sample in reading.samples:
        told = {r.label.split()[-1]: r for r in sample.results if r.analyte != "ph"}
        assert list(told) == _SYMBOLS.split(",")
        assert [brief(r)[1] for r in told.values()] == _VALUES
        assert {label: told[label].analyte for label in _KNOWN} == _KNOWN


def test_the_ph_beside_symbols_keeps_its_name_under_a_method() -> None:
    reading = read_csv(
        "CERT26-118 - Finalized\n,ME-14,ME-14,ANPH,ANPH\nSAMPLE,Ca,Na,pH,Conductivity\n"
        "DESCRIPTION,mg/L,mg/L,Unity,uS/cm\nK-1,17.9,4.1,7.9,241\nK-2,21,5.5,8.3,300\n"
    )
    assert [s.id for s in reading.samples] == ["K-1", "K-2"]
    first = reading.samples[0].results
    assert [brief(r)[:3] for r in first] == [
        ("calcium", "17.9", "mg/L"),
        ("sodium", "4.1", "mg/L"),
        ("ph", "7.9", "Unity"),
        ("specific_conductance", "241", "uS/cm"),
    ]
    assert not any(r.review for r in first), "the number of the report is no sample's"
