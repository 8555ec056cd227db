"""Countries by their two letters and their names in the language of the screen."""

import re

from relations.languages.templatetags.words import reader_locale


def territories(language: str | None = None) -> dict[str, str]:
    """Two-letter country codes and the countries' names in the language of the screen."""
    names = reader_locale(language).territories
    return {code: name for code, name in names.items() if re.fullmatch("[A-Z]{2}", code)}
