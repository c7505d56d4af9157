"""The saw file: its keys, read, explained and asked about; what a saw is made of."""
