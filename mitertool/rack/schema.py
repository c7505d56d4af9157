"""The tables of a rack file and the steps from one version of them to the next; knows SQL.

That a left-over is booked once, and a job and revision once, is held by the file itself, whoever writes to it. What a
bar of new steel is stands with the bar that is booked; `closed` has the bookings of which something was cut, and
`closed_bar` what their bars were, so that a closing can be taken back.
"""

from __future__ import annotations

from typing import Final

MARK: Final = 0x4D545243
"""application_id by which a rack is told from any other SQLite file: the letters MTRC."""

STEPS: Final[tuple[str, ...]] = (
    """
    CREATE TABLE left_over (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        section TEXT NOT NULL, grade TEXT NOT NULL, heat TEXT NOT NULL,
        length REAL NOT NULL CHECK (length > 0), square REAL NOT NULL CHECK (square > 0 AND square <= length),
        left_miter REAL NOT NULL, left_bevel REAL NOT NULL, right_miter REAL NOT NULL, right_bevel REAL NOT NULL,
        place TEXT NOT NULL, date TEXT NOT NULL, removed TEXT NOT NULL DEFAULT '');
    CREATE TABLE booking (
        id INTEGER PRIMARY KEY, job TEXT NOT NULL, revision TEXT NOT NULL, plan TEXT NOT NULL, date TEXT NOT NULL,
        UNIQUE (job, revision));
    CREATE TABLE booked_bar (
        booking INTEGER NOT NULL REFERENCES booking, number INTEGER NOT NULL, copy INTEGER NOT NULL,
        takes INTEGER UNIQUE REFERENCES left_over, leaves INTEGER UNIQUE REFERENCES left_over,
        UNIQUE (booking, number, copy));
    """,
    """
    ALTER TABLE booking ADD COLUMN work TEXT NOT NULL DEFAULT '';
    ALTER TABLE booked_bar ADD COLUMN section TEXT NOT NULL DEFAULT '';
    ALTER TABLE booked_bar ADD COLUMN grade TEXT NOT NULL DEFAULT '';
    ALTER TABLE booked_bar ADD COLUMN heat TEXT NOT NULL DEFAULT '';
    ALTER TABLE booked_bar ADD COLUMN length REAL NOT NULL DEFAULT 0;
    CREATE TABLE closed (
        job TEXT NOT NULL, revision TEXT NOT NULL, plan TEXT NOT NULL, work TEXT NOT NULL, bars TEXT NOT NULL,
        UNIQUE (job, revision));
    """,
    """
    ALTER TABLE closed ADD COLUMN date TEXT NOT NULL DEFAULT '';
    CREATE TABLE closed_bar (
        job TEXT NOT NULL, revision TEXT NOT NULL, number INTEGER NOT NULL, copy INTEGER NOT NULL,
        takes INTEGER REFERENCES left_over, leaves INTEGER REFERENCES left_over,
        section TEXT NOT NULL, grade TEXT NOT NULL, heat TEXT NOT NULL, length REAL NOT NULL,
        cut INTEGER NOT NULL, added INTEGER REFERENCES left_over,
        UNIQUE (job, revision, number, copy));
    """,
    """
    ALTER TABLE left_over ADD COLUMN bought TEXT NOT NULL DEFAULT '';
    """,
)
"""Each makes the tables of the version one higher; what is out is never changed, a further step is put behind it."""
