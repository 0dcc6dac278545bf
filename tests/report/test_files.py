"""Files are whole or not there, and say what to do when they cannot be written."""

from __future__ import annotations

import errno
import json
import os
import stat
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import pytest

from crushleg.errors import InputError
from crushleg.report.files import make_folder, write_bytes, write_json, write_new, write_text

if TYPE_CHECKING:
    from collections.abc import Callable


def failing(error: BaseException) -> Callable[..., NoReturn]:
    def fail(*_: Any, **__: Any) -> NoReturn:
        raise error

    return fail


def complaint(path: Path, text: str = "new") -> str:
    with pytest.raises(InputError) as caught:
        write_text(path, text)
    return str(caught.value)


def test_text_is_written_over_the_old_and_nothing_else_is_left(tmp_path: Path) -> None:
    path = tmp_path / "report.txt"
    for text in ("old", "new ≥ η"):
        write_text(path, text)
    assert path.read_text(encoding="utf-8") == "new ≥ η"
    assert list(tmp_path.iterdir()) == [path]


def test_bytes_keep_their_line_ends(tmp_path: Path) -> None:
    write_bytes(tmp_path / "plot.png", b"\x89PNG\r\n\x00")
    assert (tmp_path / "plot.png").read_bytes() == b"\x89PNG\r\n\x00"


def test_an_existing_file_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "report.txt"
    path.write_text("old")
    path.chmod(0o640)
    write_text(path, "new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@pytest.mark.parametrize("error", [OSError(errno.ENOSPC, "full"), KeyboardInterrupt()])
def test_a_write_cut_short_leaves_the_old_file_and_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException
) -> None:
    path = tmp_path / "report.txt"
    path.write_text("old")
    monkeypatch.setattr(os, "fsync", failing(error))
    with pytest.raises((InputError, KeyboardInterrupt)):
        write_text(path, "new")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    ("code", "words"),
    [(errno.ENOSPC, "a full disk"), (errno.EROFS, "read-only"), (errno.EACCES, "may not write")],
)
def test_troubles_of_the_disk_say_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, words: str
) -> None:
    monkeypatch.setattr(os, "fsync", failing(OSError(code, "trouble")))
    said = complaint(tmp_path / "report.txt")
    assert said.startswith(f"{tmp_path / 'report.txt'}: read ")
    assert words in said
    assert "; write to " in said


def test_a_missing_folder_a_file_as_folder_and_a_folder_as_file_are_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert "a folder that is missing" in complaint(tmp_path / "missing" / "a.txt")
    assert "a file where a folder is due" in complaint(tmp_path / "file" / "a.txt")
    assert "a folder where a file is due" in complaint(tmp_path)
    assert "a name that is too long" in complaint(tmp_path / ("x" * 300))


def test_a_read_only_file_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "report.txt"
    path.write_text("old")
    monkeypatch.setattr(os, "access", lambda *_: False)  # root may write anything
    assert "may not write" in complaint(path)
    assert path.read_text() == "old"


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.txt").write_text("old")
    link = tmp_path / "link.txt"
    link.symlink_to("real.txt")
    write_text(link, "new")
    assert link.is_symlink()
    assert (tmp_path / "real.txt").read_text() == "new"


def test_devices_are_written_to_not_replaced() -> None:
    write_text(os.devnull, "gone")
    assert not Path(os.devnull).is_file()
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("this system has no /dev/full")
    assert "a full disk" in complaint(full)


def test_a_new_file_is_never_written_over_another(tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    write_new(path, "mine")
    with pytest.raises(InputError, match="a name that is taken"):
        write_new(path, "yours")
    assert path.read_text() == "mine"


def test_folders_are_made_with_those_above(tmp_path: Path) -> None:
    folder = make_folder(tmp_path / "a" / "b")
    assert folder.is_dir()
    assert make_folder(folder) == folder
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="a file where a folder is due"):
        make_folder(tmp_path / "file")


def test_json_goes_to_a_file_or_to_standard_output(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = {"title": "σ", "margin": None, "passes": True, "force_N": [1.5, 2.0]}
    write_json(found, tmp_path / "result.json")
    write_json(found, "-")
    assert json.loads((tmp_path / "result.json").read_text(encoding="utf-8")) == found
    assert json.loads(capsys.readouterr().out) == found


def test_json_refuses_what_is_not_a_number() -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_json({"force_N": float("nan")}, "-")
