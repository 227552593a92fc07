"""Addresses of this room."""

from django.urls import path

from builds.bench import deviation_views, photo_views, views

urlpatterns = [
    path("builds/<str:number>/bench/", views.bench, name="bench"),
    path("builds/<str:number>/bench/steps/<int:pk>/", views.step_record, name="step_record"),
    path("builds/<str:number>/bench/steps/<int:pk>/change/", deviation_views.step_change, name="step_change"),
    path("builds/<str:number>/bench/steps/<int:pk>/strike/", deviation_views.step_strike, name="step_strike"),
    path("builds/<str:number>/bench/results/<int:pk>/strike/", views.result_strike, name="result_strike"),
    path("builds/<str:number>/bench/<str:section>/", views.bench_section, name="bench_section"),
    path("builds/<str:number>/bench/<str:section>/add/", deviation_views.step_add, name="step_add"),
    path("builds/<str:number>/photos/", photo_views.build_photos, name="build_photos"),
    path("builds/<str:number>/photos/add/", photo_views.photo_add, name="photo_add"),
    path("builds/<str:number>/photos/<int:pk>/", photo_views.photo, name="photo"),
    path("builds/<str:number>/photos/<int:pk>/strike/", photo_views.photo_strike, name="photo_strike"),
]
