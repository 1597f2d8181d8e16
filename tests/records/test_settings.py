"""Where things are looked for."""

from pathlib import Path

import platformdirs

from app.settings import read_settings


def test_the_environment_names_the_data_folder(tmp_path: Path) -> None:
    settings = read_settings({"TWELVEMONTH_DATA": str(tmp_path / "here")})
    assert settings.data == tmp_path / "here"
    assert settings.database == tmp_path / "here" / "twelvemonth.sqlite3"


def test_what_is_said_on_the_spot_outranks_the_environment(tmp_path: Path) -> None:
    assert read_settings({"TWELVEMONTH_DATA": "/elsewhere"}, tmp_path).data == tmp_path


def test_else_it_is_the_platforms_usual_place() -> None:
    assert read_settings({}).data == Path(platformdirs.user_data_dir("twelvemonth", False))
    assert read_settings({"TWELVEMONTH_DATA": " "}).data == read_settings({}).data


def test_a_relative_folder_stays_the_same_wherever_the_program_goes(tmp_path: Path, monkeypatch: object) -> None:
    assert read_settings({"TWELVEMONTH_DATA": "data"}).data == Path.cwd() / "data"


def test_what_travels_with_the_program_is_found() -> None:
    settings = read_settings({})
    assert (settings.templates / "base.html").is_file()
    assert settings.static.is_dir()


def test_a_folder_with_signs_in_its_name_is_the_same_database(tmp_path: Path) -> None:
    settings = read_settings({}, tmp_path / "50% off? #1 @ é")
    assert settings.database_url.database == str(settings.database)
