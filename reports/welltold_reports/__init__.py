"""An interpretation in; HTML, PDF, XLSX, JSON and text out.

Renderers decide nothing: every sentence and every verdict is in the interpretation. This package
imports welltold's core modules and never ``welltold_parsers``.
"""
