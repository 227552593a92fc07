"""Addresses of the builds app: every room's own list."""

from django.urls import include, path

ROOMS = ("record", "plans", "parts", "bench", "wiring", "drive", "followup", "papers", "overview")

urlpatterns = [path("", include(f"builds.{room}.urls")) for room in ROOMS]
