"""What the builds hold of a family: told to the family on asking, and erased with its file."""


def register(hooks):
    """Offer it to the clients' pages, which do not know the builds."""
    from builds.personal import erasing, photos, telling

    for asked, ours in (
        (hooks.kept_elsewhere, telling.kept),
        (hooks.in_the_way, erasing.what_stands_in_the_way),
        (hooks.goes_with_the_file, erasing.what_goes),
        (hooks.stays_without_the_file, erasing.what_stays),
        (hooks.names_elsewhere, erasing.names_kept_here),
        (hooks.erase_elsewhere, erasing.erase),
        (hooks.photos_refused, photos.let_go),
    ):
        if ours not in asked:
            asked.append(ours)
