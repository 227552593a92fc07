"""Addresses of the family link: the lab's side under the build, the family's under its own signed address."""

from django.urls import path, re_path

from builds.papers.family import desk_views, views

urlpatterns = [
    path("family/<str:token>/", views.family_link, name="family_link"),
    path("family/<str:token>/report/", views.family_report, name="family_report"),
    path("family/<str:token>/report/<int:pk>/", views.family_reported, name="family_reported"),
    path("family/<str:token>/diary/", views.family_diary, name="family_diary"),
    path("family/<str:token>/close/", views.family_close, name="family_close"),
    path("family/<str:token>/papers/<slug:kind>/", views.family_paper, name="family_paper"),
    path("builds/<str:number>/family-links/", desk_views.family_links, name="family_links"),
    path("builds/<str:number>/family-links/new/", desk_views.family_link_new, name="family_link_new"),
    path("builds/<str:number>/family-links/<int:pk>/revoke/", desk_views.family_link_revoke, name="family_link_revoke"),
    path(
        "builds/<str:number>/family-links/reports/<int:pk>/photo/",
        desk_views.family_report_photo,
        name="family_report_photo",
    ),
    # A family's address with a piece missing or too much; one without its last slash finds its page all the same.
    re_path(r"^family/(?P<rest>.*/)?$", views.family_lost, name="family_lost"),
]
