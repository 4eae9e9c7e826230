"""Running text, steps and items read by a small grammar: what is tightened, with which torque, for which conductor.

`quantities` finds figures and sizes, `tokens` the words that the vocabularies know, `nouns` joins them to the names of
things, `parts` cuts a sentence where another thing is said, `reading` gives each figure what it is for, `items` sets
the lines of a page as paragraphs, steps and items under their headings, `telling` goes through all of a document.
"""
