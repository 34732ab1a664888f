"""welltold: from a private well's lab sheet to a report that can be handed over.

    import welltold

    reading = welltold.read("sheet.pdf")
    view = welltold.interpret(reading)
    welltold.write(view, "out/", formats=["html", "pdf"])

This package holds the public face, the command, and the knowledge and computation (analytes, units,
values, levels, checks, treatment). Its core modules import neither ``welltold_parsers`` nor
``welltold_reports``; only the public face, the command and the batch do, when they are called.
"""

__version__ = "0.1.0"
