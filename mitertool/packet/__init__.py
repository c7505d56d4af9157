"""The packet: everything solved, put on paper and in files for the floor; imports job and left of it, and drawing.

`packet.write_packet` makes the whole; this door loads nothing, since the records alone serve every command.
"""
