"""Calendars, digits, direction, sorting and codes, in every language of the site."""
