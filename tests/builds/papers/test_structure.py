"""The structure tree of the finished PDFs: what a screen reader of the family is told, and in which order."""

from dataclasses import dataclass

import pytest

pytestmark = pytest.mark.django_db  # so that there is a database for the session's papers


@dataclass
class Node:
    kind: str
    alt: str
    name: str  # of a header cell
    heads: tuple  # the names of the header cells of a cell
    kids: tuple  # the kinds of the structure elements right below it


def below(element):
    """The structure elements right below this one; what it marks on the page itself is left out."""
    kids = resolved(element.get("/K", ()))
    found = [resolved(one) for one in (kids if isinstance(kids, list) else [kids])]
    return [one for one in found if hasattr(one, "get") and "/S" in one]


def resolved(item):
    """What a reference stands for."""
    return item.get_object() if hasattr(item, "get_object") else item


def nodes_of(reader):
    """The structure elements in reading order."""
    found = []

    def walk(item):
        item = resolved(item)
        if isinstance(item, list):
            for one in item:
                walk(one)
        elif hasattr(item, "get"):
            if "/S" in item:
                heads = tuple(str(one) for one in item.get("/A", {}).get("/Headers", ()))
                kids = tuple(str(one["/S"]) for one in below(item))
                found.append(Node(str(item["/S"]), str(item.get("/Alt", "")), str(item.get("/ID", "")), heads, kids))
            walk(item.get("/K"))

    walk(reader.trailer["/Root"]["/StructTreeRoot"])
    return found


@pytest.fixture(scope="module")
def trees(packs):
    """The trees of the normal print; large print comes from the same elements."""
    return {key: nodes_of(paper.reader) for key, paper in packs.items() if key[3] == "normal"}


@pytest.fixture(scope="module")
def every_tree(packs, bench_packs):
    """The trees of both prints and of the papers of the bench: a list that goes on over a page counts as two."""
    return {key: nodes_of(paper.reader) for key, paper in {**packs, **bench_packs}.items()}


def test_each_document_says_title_and_language(packs):
    for (_, kind, language, _), paper in packs.items():
        catalog = paper.reader.trailer["/Root"]
        assert catalog["/MarkInfo"]["/Marked"]
        assert catalog["/Lang"] == language
        assert catalog["/ViewerPreferences"]["/DisplayDocTitle"]
        title = paper.reader.metadata.title
        assert title.endswith(f"{'for' if language == 'en' else 'para'} {paper.number}"), kind


def test_it_declares_the_standard_for_tagged_documents(packs):
    metadata = packs["one-hand-stick", "use_guide", "es", "normal"].reader.trailer["/Root"]["/Metadata"]
    assert b"pdfuaid:part" in metadata.get_object().get_data()


def test_headings_go_down_one_step_at_a_time(trees):
    for key, nodes in trees.items():
        levels = [int(node.kind[2:]) for node in nodes if node.kind[:2] == "/H" and node.kind[2:].isdigit()]
        assert levels.count(1) == 1, key
        steps = [(above, below) for above, below in zip(levels, levels[1:], strict=False) if below > above + 1]
        assert steps == [], key


def wrong_lists(nodes):
    """What ISO 32000-1 (14.8.4.3.3) does not let stand in a list: items and a caption only, in items label and body."""
    for node in nodes:
        if node.kind == "/L" and (not node.kids or set(node.kids) - {"/LI", "/Caption"}):
            yield node.kind, node.kids
        if node.kind == "/LI" and node.kids not in (("/LBody",), ("/Lbl", "/LBody")):
            yield node.kind, node.kids


def test_lists_hold_items_and_items_hold_what_they_say(every_tree):
    assert {key: found for key, nodes in every_tree.items() if (found := list(wrong_lists(nodes)))} == {}


@pytest.mark.parametrize("kind", ["charging_guide", "hand_off_sheet", "teach_back_sheet", "use_diary", "what_we_keep"])
def test_tables_have_header_cells_that_say_what_they_head(trees, kind):
    for key, nodes in trees.items():
        if key[1] == kind:
            names = [node.name for node in nodes if node.kind == "/TH"]
            cells = [node for node in nodes if node.kind == "/TD"]
            assert any(node.kind == "/Table" for node in nodes), key
            assert all(names) and len(set(names)) == len(names) > 0, key
            assert all(node.heads and set(node.heads) <= set(names) for node in cells), key


def test_every_figure_says_what_it_shows_in_the_language_of_the_paper(trees):
    for (plan, kind, language, size), nodes in trees.items():
        figures = [node.alt for node in nodes if node.kind == "/Figure"]
        assert all(figures), (plan, kind, language)
        if language == "es":
            english = {node.alt for node in trees[plan, kind, "en", size] if node.kind == "/Figure"}
            assert not english & set(figures), (plan, kind)


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_side_is_told_before_the_cautions_and_the_phone_last(packs, language):
    blocks = packs["one-hand-stick", "use_guide", language, "normal"].blocks
    said = {
        "en": ("The stick is on the child's left", "Unplug the battery after each use.", "555 0142"),
        "es": ("La palanca está a la izquierda", "Desconecte la batería después de cada uso.", "555 0142"),
    }[language]
    places = [max(at for at, block in enumerate(blocks) if text in block) for text in said]
    assert places == sorted(places)


def test_both_languages_have_the_same_structure(trees):
    def shape(nodes):
        """What page breaks do not divide."""
        return [node.kind for node in nodes if node.kind in ("/H1", "/H2", "/H3", "/LI", "/Figure")]

    for (plan, kind, language, size), nodes in trees.items():
        if language == "es":
            assert shape(nodes) == shape(trees[plan, kind, "en", size]), (plan, kind)
