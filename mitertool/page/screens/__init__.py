"""The screens of the page, one a module; `app.py` lists them."""
