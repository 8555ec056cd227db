"""The door through which a web server enters the site."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "relations.settings")

application = get_wsgi_application()
