"""Addresses of the overview: the ticket, the lists of work, search."""

from django.urls import path

from builds.overview import calculators, lists, search, views

urlpatterns = [
    path("my-work/", lists.my_builds, name="my_builds"),
    path("desk/", lists.desk, name="desk"),
    path("reviews/", lists.review_queue, name="review_queue"),
    path("board/", lists.board, name="board"),
    path("search/", search.search, name="search"),
    path("calculators/", calculators.calculators, name="calculators"),
    path("calculators/<slug:name>/", calculators.calculator, name="calculator"),
    path("builds/", lists.builds, name="builds"),
    path("builds/new/", views.build_new, name="build_new"),
    path("builds/<str:number>/", views.ticket, name="ticket"),
]
