"""What a column, row, band or caption of a table means: headings, units, orientation."""
