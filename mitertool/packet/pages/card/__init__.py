"""The card that hangs at the saw: how to read a sheet, how to measure the saw, how to prove it; nothing of any job."""
