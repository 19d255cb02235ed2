"""What is remembered, and that nothing of it can stop the program."""

from pathlib import Path

import pytest

from app.settings import FOLDER_VARIABLE, LONGEST_RECENT, Layout, Settings, usual_folder


def test_what_is_remembered_is_there_the_next_time(tmp_path: Path) -> None:
    layout = Layout(place=(1, 2, 1280, 800), columns=(150, 800, 330), rows=(600, 150))

    Settings(tmp_path / "a").remember(theme="dark", scale=1.5, layout=layout)

    again = Settings(tmp_path / "a").values
    assert (again.theme, again.scale, again.layout) == ("dark", 1.5, layout)


@pytest.mark.parametrize("text", ["", "{", '{"scale": "big"}', "[]", "\x00\xff"])
def test_a_damaged_file_counts_as_nothing_remembered(tmp_path: Path, text: str) -> None:
    (tmp_path / "settings.json").write_bytes(text.encode("latin-1"))

    assert Settings(tmp_path).values.scale == 1.0


def test_a_file_of_another_version_is_read_as_far_as_it_is_known(tmp_path: Path) -> None:
    (tmp_path / "settings.json").write_text('{"scale": 1.2, "moon": true}')

    assert Settings(tmp_path).values.scale == 1.2


def test_a_disk_that_refuses_costs_only_the_memory(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    settings = Settings(tmp_path / "file" / "folder")

    settings.remember(scale=1.4)

    assert settings.values.scale == 1.4


def test_files_opened_last_come_first_and_once(tmp_path: Path) -> None:
    settings = Settings(tmp_path / "s")

    for number in range(LONGEST_RECENT + 3):
        settings.remember_file(tmp_path / f"{number}.jigplate")
    settings.remember_file(tmp_path / "5.jigplate")

    names = [Path(name).name for name in settings.values.recent]
    assert names[:3] == ["5.jigplate", "10.jigplate", "9.jigplate"]
    assert len(names) == LONGEST_RECENT
    assert len(set(names)) == len(names)


def test_the_environment_can_name_another_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))

    assert usual_folder() == tmp_path
