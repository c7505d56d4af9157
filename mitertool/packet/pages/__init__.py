"""Everything that is read: the sheet, settings, sketches, labels, the preview."""
