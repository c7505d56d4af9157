"""The page: the same engine in a browser on this machine, for whoever stands at the saw; imports packet and left of it.

`serve.py` is the way in. A screen is a module in `screens` with its template in `templates`; `app.py` lists them all.
"""
