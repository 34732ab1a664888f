"""Sheets in a language that is not read, and sheets in those that are."""

from __future__ import annotations

import pytest
from layout_sheets import read_csv

_POLISH = """Jakość wody - wyniki badania próbki
Wskaźnik,Jednostka,Wynik,Najwyższe dopuszczalne
Żelazo,mg/l,"0,11",0.2
Mętność,NTU,"<0,50",1
Bakterie grupy coli,jtk/100 ml,0,0
"""
_ITALIAN = """Analisi dell'acqua
Parametro,Unità,Valore,Limite
Durezza,°f,27,50
Nitrati,mg/l,"8,1",50
Torbidità,NTU,"0,3",1
"""
_CZECH = """Rozbor vody ve studánkách
Ukazatel,Jednotka,Hodnota,Mezní hodnota
Dusičnany,mg/l,12,50
Železo,mg/l,"0,05",0.2
Zákal,ZFn,"0,4",5
"""


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        (_POLISH, ("Żelazo", "Mętność", "Bakterie")),
        (_ITALIAN, ("Durezza", "Nitrati", "Torbidità")),
        (_CZECH, ("Dusičnany", "Železo", "Zákal")),
    ],
)
def test_each_line_is_read_or_told_and_the_language_is_told(
    text: str, rows: tuple[str, ...]
) -> None:
    reading = read_csv(text)
    assert "read.sheet_language" in {message.code for message in reading.warnings}
    told = [r.label for s in reading.samples for r in s.results]
    told += [one.text for one in reading.unread]
    assert all(any(text.startswith(row) for text in told) for row in rows)


@pytest.mark.parametrize(
    "text",
    [
        "Parameter,Result,Unit\nIron,0.11,mg/L\nTurbidity,<0.5,NTU\nRemarks,none,\n",
        "Parámetro,Resultado,Unidad\nHierro,0.11,mg/L\nTurbiedad,<0.5,NTU\nDureza,120,mg/L\n",
        "Parameter,Ergebnis,Einheit\nEisen,0.11,mg/l\nTrübung,<0.5,NTU\nWasserwerk,1,\n",
        "Paramètre,Résultat,Unité\nFer,0.11,mg/l\nTurbidité,<0.5,NFU\nDureté,12,°f\n",
    ],
)
def test_languages_that_are_read_are_not_told(text: str) -> None:
    codes = {message.code for message in read_csv(text).warnings}
    assert "read.sheet_language" not in codes
