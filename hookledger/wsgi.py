"""What gunicorn serves; it does not start while serving would be unsafe."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hookledger.settings")

application = get_wsgi_application()

from hookledger.checks import refuse_unsafe  # noqa: E402 - the settings have to be there first

refuse_unsafe()
