"""The ways round: which pages stand in the top line, under More, and in the bar along the bottom of a phone."""

PAGES: tuple[tuple[str, str, str], ...] = (
    ("month", "Month", "/"),
    ("today", "Today", "/today"),
    ("garden", "Garden", "/garden"),
    ("livestock", "Livestock", "/livestock"),
    ("meat", "Meat", "/meat"),
    ("preserving", "Preserving", "/preserving"),
    ("upkeep", "Upkeep", "/upkeep"),
    ("larder", "Larder", "/larder"),
    ("found", "Found…", "/found"),
    ("add", "Add", "/add"),
)
"""The top line: what `Frame.here` calls a page, its name, and where it is."""

MORE: tuple[tuple[str, str, str], ...] = (
    ("entries", "What there is", "/entries"),
    ("weather", "Our weather", "/weather"),
    ("evening", "What got done", "/evening"),
    ("kit", "Kit", "/kit"),
    ("search", "Search", "/search"),
    ("calendar", "Calendar", "/calendar"),
    ("phones", "Phones", "/phones"),
    ("household", "Household", "/household"),
)
"""What is wanted seldom: behind More on a laptop, at the foot of the page on a phone."""

YARD = ("today", "month", "found", "add")
"""The bar along the bottom of a phone, in its order."""
