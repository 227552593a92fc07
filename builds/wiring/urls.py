from django.urls import path

from builds.wiring import check_views, views

HERE = "builds/<str:number>/wiring/"

urlpatterns = [
    path(HERE, views.harness, name="harness"),
    path(f"{HERE}runs/new/", views.run_new, name="wire_run_new"),
    path(f"{HERE}runs/<int:pk>/", views.run_edit, name="wire_run_edit"),
    path(f"{HERE}runs/<int:pk>/strike/", views.run_strike, name="wire_run_strike"),
    path(f"{HERE}fuses/new/", views.fuse_new, name="wire_fuse_new"),
    path(f"{HERE}fuses/<int:pk>/", views.fuse_edit, name="wire_fuse_edit"),
    path(f"{HERE}fuses/<int:pk>/strike/", views.fuse_strike, name="wire_fuse_strike"),
    path(f"{HERE}parts/new/", views.switching_part_new, name="switching_part_new"),
    path(f"{HERE}parts/<int:pk>/", views.switching_part_edit, name="switching_part_edit"),
    path(f"{HERE}parts/<int:pk>/strike/", views.switching_part_strike, name="switching_part_strike"),
    path(f"{HERE}checks/", check_views.wire_checks, name="wire_checks"),
    path(f"{HERE}checks/<int:pk>/", check_views.wire_check, name="wire_check"),
    path(f"{HERE}checks/<int:pk>/strike/", check_views.check_strike, name="wire_check_strike"),
    path(f"{HERE}second-check/", check_views.second_check, name="second_check"),
    path(f"{HERE}second-check/<int:pk>/", check_views.second_check_run, name="second_check_run"),
    path(f"{HERE}differences/", check_views.check_differences, name="check_differences"),
]
