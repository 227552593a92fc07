"""Addresses of the record: the people of a build, its moves, its hold points, what went wrong."""

from django.urls import path

from builds.record import hold_views, note_views, views

urlpatterns = [
    path("builds/<str:number>/people/", views.build_people, name="build_people"),
    path("builds/<str:number>/move/<str:stage>/", views.build_move, name="build_move"),
    path("builds/<str:number>/end/", views.build_end, name="build_end"),
    path("builds/<str:number>/standing/<str:standing>/", views.build_standing, name="build_standing"),
    path("builds/<str:number>/holds/<str:hold>/", hold_views.hold_point, name="hold_point"),
    path("builds/<str:number>/holds/<str:hold>/ask/", hold_views.hold_ask, name="hold_ask"),
    path("builds/<str:number>/holds/<str:hold>/release/", hold_views.hold_release, name="hold_release"),
    path("builds/<str:number>/holds/<str:hold>/refuse/", hold_views.hold_refuse, name="hold_refuse"),
    path("builds/<str:number>/releases/<int:pk>/", hold_views.hold_decision, name="hold_decision"),
    path("builds/<str:number>/nonconformances/new/", note_views.nonconformance_new, name="nonconformance_new"),
    path(
        "builds/<str:number>/nonconformances/<int:pk>/close/",
        note_views.nonconformance_close,
        name="nonconformance_close",
    ),
    path("builds/<str:number>/problems/new/", note_views.problem_new, name="problem_new"),
    path("builds/<str:number>/problems/<int:pk>/settle/", note_views.problem_settle, name="problem_settle"),
    path("builds/<str:number>/problems/<int:pk>/strike/", note_views.problem_strike, name="problem_strike"),
    path("builds/<str:number>/tasks/new/", note_views.task_new, name="task_new"),
    path("builds/<str:number>/tasks/<int:pk>/done/", note_views.task_done, name="task_done"),
    path("what-voids-what/", hold_views.void_table, name="void_table"),
]
