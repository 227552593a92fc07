from django.apps import AppConfig


class BuildsConfig(AppConfig):
    name = "builds"
    verbose_name = "Builds"

    def ready(self):
        from builds import personal, rooms
        from builds.overview.outlook import outlooks_for
        from clients import hooks

        rooms.register_all()
        personal.register(hooks)
        if outlooks_for not in hooks.growth_outlooks:
            hooks.growth_outlooks.append(outlooks_for)
