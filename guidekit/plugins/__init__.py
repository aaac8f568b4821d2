"""What others bring: packages that add presets, layouts, guides and formats.

::

    contract      what is promised to them: the one module that they import from
    conformance   the tests that the author of a format runs on it
    stacks        what those tests write
    installed     which of them are installed, found without running any of their code
    load          their code, run when it is needed and never before
    guard         what they give back, looked at before it is used
    drawings      what their guides draw, looked at
    catalogue     all of them as entries of registries
    report        what each brings, and whether that loads
    start         a new one, complete and with its tests
"""
