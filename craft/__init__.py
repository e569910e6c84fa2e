"""The craft's arithmetic: pure Python, no Django, no files, no clock."""
