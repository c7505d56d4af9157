"""The blade's way through a section on either arm: contact, walls, area cut; imports geometry and left of it."""
