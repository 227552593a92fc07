"""Addresses of the builds app: every room's own list."""

from django.urls import include, path

ROOMS = ("overview", "record", "plans", "parts", "bench", "wiring", "drive", "followup", "papers")

urlpatterns = [path("", include(f"builds.{room}.urls")) for room in ROOMS]
