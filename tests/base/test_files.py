from pathlib import Path

import pytest

from latchwork.base.files import LIST_NAME, ForeignFileError, write_file, write_files, written_before


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_writes_all_and_notes_them(tmp_path: Path) -> None:
    write_files(tmp_path / "out", {"a.bin": b"1", "deep/b.bin": b"2"})
    assert (tmp_path / "out/a.bin").read_bytes() == b"1"
    assert (tmp_path / "out/deep/b.bin").read_bytes() == b"2"
    # SHA-256 of "1" as sha256sum of the GNU tools prints it.
    assert written_before(tmp_path / "out")["a.bin"] == (
        "6b86b273ff34fce19d6b804eff5a3f5747ada4eaa22f1d49c01e52ddb7875b4b"
    )


def test_overwrites_its_own(tmp_path: Path) -> None:
    write_file(tmp_path / "a", b"1")
    write_file(tmp_path / "a", b"2")
    assert (tmp_path / "a").read_bytes() == b"2"


def test_refuses_a_persons_file_and_writes_nothing(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"mine")
    with pytest.raises(ForeignFileError) as raised:
        write_files(tmp_path, {"a": b"1", "b": b"2"})
    assert raised.value.path == tmp_path / "b"
    assert not raised.value.changed
    assert names(tmp_path) == ["b"]
    assert (tmp_path / "b").read_bytes() == b"mine"


def test_refuses_its_own_file_that_was_changed(tmp_path: Path) -> None:
    write_file(tmp_path / "a", b"1")
    (tmp_path / "a").write_bytes(b"changed by hand")
    with pytest.raises(ForeignFileError) as raised:
        write_file(tmp_path / "a", b"2")
    assert raised.value.changed


def test_force_overwrites(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"mine")
    write_file(tmp_path / "a", b"2", force=True)
    assert (tmp_path / "a").read_bytes() == b"2"


def test_a_file_that_already_holds_the_same_is_fine(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"same")
    write_file(tmp_path / "a", b"same")
    assert "a" in written_before(tmp_path)


def test_a_failure_in_the_middle_puts_everything_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_files(tmp_path, {"a": b"old a", "b": b"old b"})
    replace = Path.replace

    def fails_on_b(source: Path, target: Path) -> None:
        if target.name == "b":
            raise OSError("no room")
        replace(source, target)

    monkeypatch.setattr(Path, "replace", fails_on_b)
    with pytest.raises(OSError, match="no room"):
        write_files(tmp_path, {"a": b"new a", "b": b"new b", "c": b"new c"})
    assert (tmp_path / "a").read_bytes() == b"old a"
    assert (tmp_path / "b").read_bytes() == b"old b"
    assert names(tmp_path) == ["a", "b", LIST_NAME]


def test_a_folder_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    with pytest.raises(ForeignFileError):
        write_file(tmp_path / "a", b"1")


def test_a_spoilt_list_claims_nothing(tmp_path: Path) -> None:
    (tmp_path / LIST_NAME).write_text("[1, 2")
    assert written_before(tmp_path) == {}
