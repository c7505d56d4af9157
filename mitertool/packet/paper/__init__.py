"""What every page is made of: blocks, clear places, views, where the operator stands."""
