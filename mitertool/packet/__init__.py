"""The packet: everything solved, put on paper and in files for the floor; imports job and left of it, and drawing."""

from mitertool.packet.packet import write_packet

__all__ = ["write_packet"]
