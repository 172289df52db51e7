"""How things are said, once for every room: numbers, days, plurals, lists, quotations; and foreign text on its way out.

Nothing here knows what a number or a name means. Another language would begin here.
"""
