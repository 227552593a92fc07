"""Addresses of units, batteries and chargers, and of a build's parts and restore kit."""

from django.urls import path

from builds.parts import build_views, power_views, views

urlpatterns = [
    path("units/", views.base_units, name="base_units"),
    path("units/new/", views.base_unit_new, name="base_unit_new"),
    path("units/<str:number>/", views.base_unit, name="base_unit"),
    path("units/<str:number>/edit/", views.base_unit_edit, name="base_unit_edit"),
    path("units/<str:number>/do-not-use/", views.unit_do_not_use, name="unit_do_not_use"),
    path("units/<str:number>/clear/", views.unit_clear, name="unit_clear"),
    path("unit-types/", views.unit_types, name="unit_types"),
    path("unit-types/new/", views.unit_type_new, name="unit_type_new"),
    path("unit-types/<int:pk>/edit/", views.unit_type_edit, name="unit_type_edit"),
    path("batteries/", power_views.batteries, name="batteries"),
    path("batteries/new/", power_views.battery_new, name="battery_new"),
    path("batteries/<int:pk>/edit/", power_views.battery_edit, name="battery_edit"),
    path("chargers/", power_views.chargers, name="chargers"),
    path("chargers/new/", power_views.charger_new, name="charger_new"),
    path("chargers/<int:pk>/edit/", power_views.charger_edit, name="charger_edit"),
    path("builds/<str:number>/parts/", build_views.build_parts, name="build_parts"),
    path("builds/<str:number>/parts/new/", build_views.build_part_new, name="build_part_new"),
    path("builds/<str:number>/parts/weigh/", build_views.build_parts_weigh, name="build_parts_weigh"),
    path("builds/<str:number>/parts/<int:pk>/", build_views.build_part_edit, name="build_part_edit"),
    path("builds/<str:number>/parts/<int:pk>/strike/", build_views.build_part_strike, name="build_part_strike"),
    path("builds/<str:number>/restore-kit/", build_views.restore_kit, name="restore_kit"),
    path("builds/<str:number>/restore-kit/check/", build_views.restore_kit_edit, name="restore_kit_edit"),
    path("builds/<str:number>/restore-kit/new/", build_views.restore_item_new, name="restore_item_new"),
    path(
        "builds/<str:number>/restore-kit/<int:pk>/strike/",
        build_views.restore_item_strike,
        name="restore_item_strike",
    ),
]
