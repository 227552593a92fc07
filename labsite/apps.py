import gc

from django.apps import AppConfig

# A paper of a hundred pages makes millions of small objects that stay until it is drawn. With the first of these three
# numbers at its usual 700 the search for garbage took a sixth of the time; the rest is as usual.
COLLECT_AFTER = (50_000, 10, 10)


class LabsiteConfig(AppConfig):
    name = "labsite"
    verbose_name = "Lab"

    def ready(self):
        gc.set_threshold(*COLLECT_AFTER)
