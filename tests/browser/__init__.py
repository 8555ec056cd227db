"""Stories in Debian's Chromium, and axe-core's look at every page."""
