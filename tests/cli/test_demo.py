"""`trued demo`: the whole loop in an invented workshop."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import Call


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of its own."""
    return tmp_path_factory.mktemp("demo") / "here"


def test_the_whole_job_in_words(trued: Call, folder: Path) -> None:
    said = trued("demo", "--out", folder)
    assert said.status == 0 and said.err == ""
    opening = " ".join(said.out.partition("━━")[0].split())
    assert "'In tolerance' needs that too, and a second run, same setup" in opening
    assert "plus sign" not in opening and ", tight" in said.out
    heads = [line for line in said.out.splitlines() if line.startswith("━━")]
    assert [head.split(" ")[1] for head in heads[:-1]] == [f"{n}." for n in range(1, len(heads))]
    for told in (
        "fence angle: ", "in tolerance", "Turned: ", "that everything fits", "CUTS   ",
        "WARNING", "Will it fit?", "What nobody knew", "were really so.",
    ):  # fmt: skip
        assert told in said.out, told
    assert all(len(line) <= 100 or str(folder) in line for line in said.out.splitlines())
    assert {path.name for path in folder.iterdir()} >= {"demo.trued", "shop.toml", "job.toml", "sheets"}
    (sheet,) = (folder / "sheets").iterdir()
    assert sheet.read_bytes()[:5] == b"%PDF-"
    after = trued("standing", "--book", folder / "demo.trued", "--json").json["standings"]
    assert next(one for one in after if one["feature"] == "sled.fence-angle@0")["decision"] == "proven-in"


def test_a_second_run_makes_it_anew_and_another_seed_is_another_workshop(trued: Call, folder: Path) -> None:
    """The same seed is the same workshop: tests/usecases/test_demo.py."""
    one = trued("demo", "--out", folder, "--json").json
    assert list(one) == ["steps", "fence_rad", "fence_said", "fits", "sure", "wrong", "folder"]
    other = trued("demo", "--out", folder, "--seed", "2", "--json").json
    assert other["fence_rad"] != one["fence_rad"]
    assert [fit["mm"] for fit in other["fits"]] != [fit["mm"] for fit in one["fits"]]
    assert len(list((folder / "sheets").iterdir())) == 1


def test_a_folder_that_is_not_its_own_is_left_alone(trued: Call, tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("mine", encoding="utf-8")
    said = trued("demo", "--out", tmp_path, "--json")
    assert said.status == 2 and "left alone" in said.faults[0]
    assert trued("demo", "--out", tmp_path / "thesis.txt").status == 2
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.txt"]
    assert (tmp_path / "thesis.txt").read_text(encoding="utf-8") == "mine"


def test_a_folder_beyond_a_file_and_a_seed_that_is_none(trued: Call, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    said = trued("demo", "--out", tmp_path / "file" / "demo", "--json")
    assert said.status == 2 and len(said.faults) == 1
    assert "whole number" in trued("demo", "--seed", "x", "--json").faults[0]
