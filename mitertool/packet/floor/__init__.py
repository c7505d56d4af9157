"""What stands on the cut sheet, as values: codes and numbers, no words and no drawing; knows job and left of it.

`made.floor_of` makes the whole of a solved job. The pages of the PDF and the page in the browser both show it, so
that they say the same.
"""
