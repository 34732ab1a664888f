"""A file in, printed results with their provenance out.

``doors`` open a file of any kind as one geometry (``geometry``); ``layout`` decides what each part
of that geometry is. This package imports welltold's core modules and never ``welltold_reports``.
"""
