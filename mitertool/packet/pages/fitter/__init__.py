"""What a fitter sets a frame out and proves it by, a part of a page each frame."""
