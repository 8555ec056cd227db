#!/usr/bin/env python3
"""Run a command of the site; on a fresh machine, set the machine up first."""

import os
import sys

from relations import bootstrap


def main() -> None:
    """Hand the command line to Django, inside the project's own environment."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "relations.settings")
    bootstrap.make_ready(sys.argv[1:2])
    bootstrap.step_inside(sys.argv)
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
