"""What one step asks for: each setting a line or a field with one of its values, and no line set twice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from latchwork.languages.microprogram.declarations import Declarations
from latchwork.languages.microprogram.errors import Findings, close, listed, near
from latchwork.languages.microprogram.flat import Field, Setting
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.tree import Word


def checked_setting(
    name: Word, value: Word | None, declared: Declarations, names: Names, findings: Findings
) -> Setting | None:
    """The setting that was written; None where it is none, which is then a problem."""
    if name.text in declared.broken:
        return None
    field = declared.fields.get(name.text)
    if field:
        return _field_setting(field, name, value, findings)
    if value and value.text not in ("0", "1"):
        message = f"`{name.text}` is no field and can't be `{value.text}`"
        hint = close(name.text, declared.fields) or "a line takes 0 or 1"
        findings.add("U132", message, name.position, help=hint)
        return None
    if names.lines is not None and name.text not in names.lines:
        known = {*names.lines, *declared.fields, *declared.steps}
        hint = near(name.text, known)
        message = f"the machine has no control line `{name.text}`"
        findings.add("U120", message, name.position, help=hint)
        return None
    return Setting(name.text, value.text if value else "", name.position)


def _field_setting(field: Field, name: Word, value: Word | None, findings: Findings) -> Setting | None:
    values = dict(field.values)
    if value is None:
        message = f"`{field.name}` is a field and needs a value"
        findings.add("U132", message, name.position, help=f"it can be {listed(values, 'or')}" if values else "")
        return None
    if value.text not in values:
        message = f"field `{field.name}` has no value `{value.text}`"
        declared = (field.position, "declared here")
        findings.add("U130", message, value.position, declared, help=near(value.text, values))
        return None
    return Setting(field.name, value.text, name.position)


def check_settings(settings: Sequence[Setting], fields: Mapping[str, Field], findings: Findings) -> tuple[Setting, ...]:
    """The settings without exact repetitions that shared steps bring in; reports lines set twice.

    A line that a field value leaves open (``-``) may be set beside it.
    """
    owners: dict[str, Setting] = {}
    kept: list[Setting] = []
    for setting in settings:
        earlier = [owners[line] for line in _lines(setting, fields) if line in owners]
        if not earlier:
            kept.append(setting)
        elif not _repeated_elsewhere(setting, earlier[0]):
            _twice(setting, earlier[0], fields, findings)
        for line in _lines(setting, fields):
            owners.setdefault(line, setting)
    return tuple(kept)


def _repeated_elsewhere(one: Setting, other: Setting) -> bool:
    same = (one.name, one.value) == (other.name, other.value)
    return same and (one.position.file, one.position.line) != (other.position.file, other.position.line)


def _lines(setting: Setting, fields: Mapping[str, Field]) -> Iterator[str]:
    """The lines whose levels a setting fixes."""
    field = fields.get(setting.name)
    if field is None:
        yield setting.name
        return
    levels = dict(field.values)[setting.value]
    yield from (line for line, level in zip(field.lines, levels, strict=True) if level is not None)


def _twice(setting: Setting, first: Setting, fields: Mapping[str, Field], findings: Findings) -> None:
    shared = next(line for line in _lines(setting, fields) if line in set(_lines(first, fields)))
    if setting.name == first.name == shared and setting.value == first.value:
        message = f"`{shared}` stands twice in one step"
    elif setting.name == first.name:
        message = f"{written(first)} and {written(setting)} in one step"
    else:
        message = f"{written(first)} and {written(setting)} both set the line `{shared}` in one step"
    findings.add("U133", message, setting.position, (first.position, f"{written(first)} stands here"))


def written(setting: Setting) -> str:
    """A setting as it is written in the source."""
    return f"`{setting.name} = {setting.value}`" if setting.value else f"`{setting.name}`"
