"""Pages alike are laid out once, and what differs between them is still theirs."""

from support.laid_out_pages import plans

HEAD = 'title = "x"\npreset = "us-comic"\nformat.dpi = 60\n'


def test_pages_alike_share_their_panels() -> None:
    """Pages of the same side and the same layout have the same panels, whatever they are called."""
    found = plans(
        HEAD + '[[pages]]\ncount = 3\ntiers = [2, 1]\n[[pages]]\ntiers = [2, 1]\nnote = "a"\n'
    )
    assert found[0].panels is found[2].panels
    assert found[1].panels is found[3].panels
    assert found[0].panels is not found[1].panels  # which lie on the other side
    assert [plan.note for plan in found] == ["", "", "", "a"]
    assert [plan.numbers for plan in found] == [(1,), (2,), (3,), (4,)]


def test_what_differs_is_not_shared() -> None:
    """A page with another gutter, perspective or switch has its own."""
    pages = ["", 'gutter = "9 px"', 'perspective = { horizon = "9 %", points = ["1 %"] }',
             'guides.thirds = "shown"']  # fmt: skip
    text = "".join(f"[[pages]]\ntiers = [2, 1]\n{keys}\n[[pages]]\npanels = 1\n" for keys in pages)
    first, _, gutter, _, view, _, guides, _ = plans(HEAD + text)
    assert gutter.panels != first.panels
    assert (first.view is None, view.view is None) == (True, False)
    assert dict(guides.guides) != dict(first.guides)


def test_a_page_may_be_a_bare_name() -> None:
    """A list of names and numbers is a list of pages."""
    found = plans(HEAD + 'pages = ["splash", 1, "six-grid"]\n')
    assert [len(plan.panels) for plan in found] == [1, 1, 6]
