"""The same jobs made by every Python named, under other hashes, zones, languages, masks and folders, byte by byte.

python -m tests.bench.same_bytes [PYTHON ...]

Languages are those that `locale -a` lists; where LOCPATH names a folder (of `localedef -i tr_TR -f UTF-8 FOLDER/...`),
German and Turkish are tried too. Packets of the gallery, a cut as JSON, the first screen of the page.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from itertools import product
from pathlib import Path

from tests.packet.byte_runs import ROOT, begun, files_of
from tests.packet.jobs import GALLERY

SEEDS = ("0", "1", "4294967295")
PLACES = (
    {"TZ": "UTC", "LC_ALL": "C"},
    {"TZ": "Pacific/Kiritimati", "LC_ALL": "de_DE.UTF-8"},
    {"TZ": "America/St_Johns", "LC_ALL": "tr_TR.UTF-8", "PYTHONUTF8": "0"},
)
MASKS = (0o022, 0o077)
FOLDERS = ("plain", "two words/Zoë")


def main() -> int:
    """Tell of each run whether its files are those of the first; 0 where all are."""
    pythons = sys.argv[1:] or [sys.executable]
    wrong, first = 0, {}
    with tempfile.TemporaryDirectory() as place:
        for number, (python, seed, where) in enumerate(product(pythons, SEEDS, PLACES)):
            folder, mask = FOLDERS[number % 2], MASKS[number // 2 % 2]
            gallery = Path(place) / str(number) / folder / "jobs"
            shutil.copytree(ROOT / "gallery", gallery, ignore=shutil.ignore_patterns("packet"))
            work = gallery.parent / "made"
            settings = {"PYTHON": python, "PYTHONHASHSEED": seed, "GALLERY": str(gallery), **where}
            code = begun(work, settings, GALLERY, mask).wait()
            made = files_of(work)
            first = first or made
            other = sorted(path for path in made.keys() | first.keys() if made.get(path) != first.get(path))
            wrong += bool(code or other)
            sys.stdout.write(f"{settings} {mask:o} {len(made)} files: {code or other[:5] or 'the same'}\n")
            sys.stdout.flush()
    sys.stdout.write(f"{number + 1} runs, {wrong} with other bytes than the first\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
