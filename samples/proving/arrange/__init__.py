"""Arrangements: how results stand on a sheet, whatever press prints it."""
