from django.apps import AppConfig


class BuildsConfig(AppConfig):
    name = "builds"
    verbose_name = "Builds"

    def ready(self):
        from builds import personal, rooms
        from builds.overview.outlook import outlooks_for
        from builds.record.voiding import at_the_end
        from clients import hooks

        rooms.register_all()
        personal.register(hooks)
        if outlooks_for not in hooks.growth_outlooks:
            hooks.growth_outlooks.append(outlooks_for)
        if at_the_end not in hooks.around_many_saves:
            hooks.around_many_saves.append(at_the_end)
