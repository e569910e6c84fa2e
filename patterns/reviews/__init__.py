"""Reviews by link: a technical editor or a tester reads a frozen draft, without an account.

models    rows: the copy of a draft, the review (who, link, when), remarks, the tester's report
links     the link: its token, the browser that it is bound to, when it ends
copies    freezing a draft, with the sheet of its edit
places    where a line of an older draft stands in the text of today
asking    writes of the designer about people; answers: about remarks
reading   writes of the reviewer
board     what the designer sees: who is late, which sizes are uncovered, remarks in order
figures   the testers' numbers against the estimate
"""
