from types import ModuleType

from latchwork.problems import registry


def test_every_area_with_codes_is_found() -> None:
    titles = registry.titles()
    assert titles["R301"] == "a file is not a value change dump"
    assert list(titles) == sorted(titles)


def test_only_tables_of_codes_count() -> None:
    module = ModuleType("errors")
    vars(module).update(TITLES={"X101": "title"}, other={"x": "y"}, nothing={})
    assert registry.tables_of(module) == [{"X101": "title"}]


def test_near_codes() -> None:
    assert "R301" in registry.near("r310")
