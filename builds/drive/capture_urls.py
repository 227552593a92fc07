"""The addresses of captures."""

from django.urls import path

from builds.drive import capture_views as views

HERE = "builds/<str:number>/captures/"

urlpatterns = [
    path(HERE, views.captures, name="captures"),
    path(f"{HERE}new/", views.capture_new, name="capture_new"),
    path(f"{HERE}<int:pk>/", views.capture, name="capture"),
    path(f"{HERE}<int:pk>/log/", views.capture_log, name="capture_log"),
    path(f"{HERE}<int:pk>/against/<int:other>/", views.capture_compare, name="capture_compare"),
    path(f"{HERE}<int:pk>/accept/", views.capture_accept, name="capture_accept"),
    path(f"{HERE}<int:pk>/refuse/", views.capture_refuse, name="capture_refuse"),
    path(f"{HERE}<int:pk>/strike/", views.capture_strike, name="capture_strike"),
]
