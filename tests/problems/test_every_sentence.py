"""Every sentence of the source about a problem stands in full in some test: with its place, its labels and its help.

``NOT_SHOWN`` is what is still owed: so many sentences of each code. It may only shrink; the test says so when it can.
"""

from collections import Counter

from full_texts import texts
from sentences import Reader

NOT_SHOWN = {
    "M007": 2, "M016": 1, "M022": 1, "M024": 1, "M105": 1, "M107": 1, "M111": 1, "M201": 18, "M212": 4,
    "M401": 1, "M402": 1, "M403": 1, "M404": 1, "M405": 1, "M406": 1, "M407": 1, "M409": 2, "M410": 1,
    "R108": 1, "U120": 1, "U130": 1, "U204": 1, "U205": 1, "U208": 1, "U212": 1, "U220": 2,
    "U224": 1, "U229": 2, "U233": 6, "U234": 3, "U235": 1, "U236": 3, "U237": 3,
}  # fmt: skip


def test_every_sentence_is_shown_in_full() -> None:
    known = texts()
    sentences = [each for each in Reader().sentences() if not each.says_nothing]
    assert len(sentences) > 400
    missing = [each for each in sentences if not any(text.shows(each) for text in known[each.code])]
    count = Counter(each.code for each in missing)
    places = "\n".join(f"{each.code} {each.place} {each.message}" for each in missing)
    assert count == NOT_SHOWN, f"no test compares these in full:\n{places}"
