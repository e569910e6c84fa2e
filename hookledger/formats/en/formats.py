"""English: the day first and the month as a word, which no reader can take for another day."""

DATE_FORMAT = "j F Y"
DATETIME_FORMAT = "j F Y, H:i"
SHORT_DATE_FORMAT = "j M Y"
SHORT_DATETIME_FORMAT = "j M Y, H:i"
MONTH_DAY_FORMAT = "j F"
