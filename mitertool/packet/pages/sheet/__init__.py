"""The cut sheet: its pages and the blocks they are made of; knows the rest of packet but the sketches."""
