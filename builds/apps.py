from django.apps import AppConfig


class BuildsConfig(AppConfig):
    name = "builds"
    verbose_name = "Builds"

    def ready(self):
        from builds import rooms

        rooms.register_all()
