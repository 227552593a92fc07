"""Addresses of the build plans."""

from django.urls import path

from builds.plans import views

urlpatterns = [
    path("plans/", views.plans, name="plans"),
    path("plans/<slug:code>/<int:number>/", views.plan_sheet, name="plan_sheet"),
]
