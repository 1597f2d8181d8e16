"""Facts in, dated tasks out: pure, with no clock, no files, no database and no web.

Inside, a day is a number (``date.toordinal()``), which is what makes planning quick; ``date`` begins at the edge.
"""
