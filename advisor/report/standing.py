"""Sentences that stand in every report and claim nothing about this house: the only ones without ids.

They may hold no figure. Who may do which work, and what has the last word, is
said here; what applies to this house comes from rules.
"""

from __future__ import annotations

# --- letter
LAST_WORD = "Local codes and the maker's instructions decide where they differ from this letter."
LICENSED = ("Gas work is for a registered gas engineer, new circuits for a registered electrician, "
            "and sealed hot-water stores for a person qualified for them.")
PROPOSES = "This letter proposes a layout; the person who installs it designs it, checks it and signs for it."
CONFIRM = "Whatever is marked assumed or not surveyed must be confirmed on site before any order."
NO_REMAINING = "Every question this advice rests on has been answered."
NO_WORKS = "The building and its supplies need no changes for it."
NO_WISHES = "You told us no wishes, so we ranked by running cost, then price, then disruption."
MORE_IN_TECHNICAL = "More in the technical report."
CAUTIONS = "Cautions"  # the technical report's heading
MORE_CAUTIONS = f"More under \"{CAUTIONS}\" in the technical report."
TYPICAL_ONLY = "What follows is an example, not a recommendation."
UNVENTED_WORD = "A mains-fed cylinder, called unvented in the trade, stores hot water at mains pressure."
CISTERN_WORD = "A cistern-fed cylinder takes its water from a tank in the loft."
COMBINATION_WORD = "A combination boiler heats water only while a tap runs and stores none."
MAY_BE = "This may be so, once a missing answer is known:"
ALL_OF_THESE = "More than one thing rules it out; all of these would have to change."
NOTIFIED = "Building control is told of the work, and the certificates are yours to keep."
ASBESTOS = "Nobody drills or strips old board, lagging or flue pipe before it was looked at for asbestos."
STORED = "Stored water is kept hot against Legionella bacteria, so it can scald; and a full cylinder is heavy."

# --- technical report
MARKS = "The small mark after a figure names its fact; the tables at the end walk each one back."
CHECK_COLUMNS = "A margin is what there is less what is needed; below nought it is short."
STEPS = "Steps run from nought, the better end; layouts are compared by steps, never by raw values."
WALKED = "Inputs of a sum stand in the order of its formula; a rule names the marks of its premises."
HOW_WORDS = "How known: measured, told to us, assumed, or not surveyed (then every possible value was kept)."
FARTHER = "`advisor flips` goes on to the end of each scale, and tries every word and wish."
POINTS = "Points are relative bands of common practice, not prices."

HOUR = ("Simulated as the household described the hour, at the worst of what is known; "
        "the table gives both ends.")
HOUR_DRAWN = "Outlined is what is wanted, filled what comes; hatched is too little or too cold."
NO_CHARTS = "The drawings are left out: install this program with its extra `charts` to have them."
YEAR = ("Hot water only, at the household's average and the prices named; a fifth either way is how far homes differ. "
        "Part of what store and pipes lose warms the home in winter and is not taken off.")
BANDS_OVERLAP = "The two bands overlap: there is nothing to choose by in them."
YEAR_LEFT_OUT = "not worked out"
YEAR_NONE = "none"
HOUR_NOT_YET = "This could not be worked out yet; the questions below say what is missing."

# --- comparisons and questions on the command line
NOT_SEPARATED = "Nothing the household asked for separates these two, and neither does the usual order."
OPINION = "This is the estimator's own opinion, not a conclusion of the rules; nothing here checked it."
QUOTES_BANDS = "We compare bands of cost, never prices; ask both for a written price with the same contents."
SAME_RULES = "Both layouts were judged by the same rules on the same survey."
NOT_COVERED = "Not every value of these was covered; another value than those named may change the advice."
PROVED = "No value of these alone changes the advice; each was judged over all it may be."
NO_FLIP = "No single answer changes the advice, whatever it were."
TIGHT = "Read these again before quoting: one step of the instrument changes the advice."
NEED_NOT = ("No value of these, alone or together, changes what is recommended: each was judged over all it may be. "
            "Works, prices and safety may still need them.")
ASK_AGAIN = "After each answer ask again: it may settle those below it."
LEAVES_NOTHING = "Some answers leave nothing to recommend."
TOGETHER = "All of these together:"
ASK_IS_FOR_OPEN = "What is merely unanswered belongs to `advisor ask`."
NOT_PROVED_IMPOSSIBLE = "That is no proof that nothing could help; it is all that was tried."

SENTENCES = frozenset(v for k, v in dict(globals()).items() if k.isupper() and isinstance(v, str))
LABELS = frozenset({"", "this firm's price", "yes", "no", "not worked out", "may or may not", "named work",
                    "in its place", "certain", "possible"})
