"""The issue as one HTML file, for any browser and with no need of a network.

::

    page_svg    a page as a small SVG
    measures    the measures of a page in words
    html        the file, with page.html, page.css and page.js in it
"""
