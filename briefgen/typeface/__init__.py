"""The site's own typeface: Barlow (SIL Open Font License 1.1), from an installed package.

One face on every system, so that what is drawn at build time can be measured with the widths that the reader's browser
will use. Knows no page and no chart.
"""
