"""Makes the invented lab files of ``samples/sheets`` and their expected readings."""
