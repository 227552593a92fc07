from django.urls import path

from builds.drive import (
    capture_urls,
    configuration_views,
    controller_views,
    fault_views,
    map_views,
    proving_views,
    views,
)

HERE = "builds/<str:number>/"

urlpatterns = [
    *capture_urls.urlpatterns,
    path(f"{HERE}configurations/", configuration_views.configurations, name="configurations"),
    path(f"{HERE}configurations/next/", configuration_views.configuration_edit, name="configuration_edit"),
    path(f"{HERE}calibrations/", views.calibrations, name="calibrations"),
    path(f"{HERE}calibrations/new/", views.calibration_new, name="calibration_new"),
    path(f"{HERE}calibrations/<int:pk>/accept/", views.calibration_accept, name="calibration_accept"),
    path(f"{HERE}calibrations/<int:pk>/strike/", views.calibration_strike, name="calibration_strike"),
    path(f"{HERE}timed-runs/", views.timed_runs, name="timed_runs"),
    path(f"{HERE}timed-runs/new/", views.timed_runs_new, name="timed_runs_new"),
    path(f"{HERE}timed-runs/<int:pk>/strike/", views.timed_runs_strike, name="timed_runs_strike"),
    path(f"{HERE}drive-map/", map_views.drive_map, name="drive_map"),
    path(f"{HERE}stops/new/", map_views.stop_new, name="stop_new"),
    path(f"{HERE}stops/<int:pk>/strike/", map_views.stop_strike, name="stop_strike"),
    path(f"{HERE}proving-runs/", proving_views.proving_runs, name="proving_runs"),
    path(f"{HERE}proving-runs/new/", proving_views.proving_new, name="proving_new"),
    path(f"{HERE}proving-runs/<int:pk>/next/", proving_views.proving_line, name="proving_line"),
    path(f"{HERE}proving-runs/<int:pk>/strike/", proving_views.proving_strike, name="proving_strike"),
    path(f"{HERE}proving-lines/<int:pk>/strike/", proving_views.proving_line_strike, name="proving_line_strike"),
    path(f"{HERE}controller/", controller_views.controller, name="controller"),
    path(f"{HERE}controller/archive/", controller_views.controller_archive, name="controller_archive"),
    path(f"{HERE}controller/told/", controller_views.controller_told, name="controller_told"),
    path(f"{HERE}controller/told/<int:pk>/strike/", controller_views.controller_strike, name="controller_strike"),
    path(f"{HERE}fault-finding/", fault_views.fault_finding, name="fault_finding"),
    path(f"{HERE}fault-finding/record/", fault_views.fault_record, name="fault_record"),
    path(f"{HERE}fault-finding/symptoms/", fault_views.fault_symptoms, name="fault_symptoms"),
]
