"""Addresses of clients and their cases. Only the case code stands in an address, never a name."""

from django.urls import path

from clients.views import agreements, case, client, erasure, needs, people

A_CLIENT = "clients/<str:case_code>/"

urlpatterns = [
    path("waiting/", case.waiting_list, name="waiting_list"),
    path("referrals/new/", case.referral_new, name="referral_new"),
    path("clients/", case.clients, name="clients"),
    path(A_CLIENT, client.client_page, name="client_page"),
    path(f"{A_CLIENT}trail/", client.client_trail, name="client_trail"),
    path(f"{A_CLIENT}copy/", client.client_copy, name="client_copy"),
    path(f"{A_CLIENT}copy/file/", client.client_export, name="client_export"),
    path(f"{A_CLIENT}erase/", erasure.client_erase, name="client_erase"),
    path(f"{A_CLIENT}erase/confirm/", erasure.erasure_confirm, name="erasure_confirm"),
    path(f"{A_CLIENT}erase/take-back/", erasure.erasure_take_back, name="erasure_take_back"),
    path(f"{A_CLIENT}referrals/new/", case.referral_again, name="referral_again"),
    path(f"{A_CLIENT}referrals/<int:pk>/", case.referral_edit, name="referral_edit"),
    path(f"{A_CLIENT}referrals/<int:pk>/move/", case.case_move, name="case_move"),
    path(f"{A_CLIENT}referrals/<int:pk>/close/", case.case_close, name="case_close"),
    path(f"{A_CLIENT}referrals/<int:pk>/reopen/", case.case_reopen, name="case_reopen"),
    path(f"{A_CLIENT}person/", people.person_edit, name="person_edit"),
    path(f"{A_CLIENT}caregivers/new/", people.caregiver_new, name="caregiver_new"),
    path(f"{A_CLIENT}caregivers/<int:pk>/", people.caregiver_edit, name="caregiver_edit"),
    path(f"{A_CLIENT}caregivers/<int:pk>/remove/", people.caregiver_remove, name="caregiver_remove"),
    path(f"{A_CLIENT}home/", people.household_edit, name="household_edit"),
    path(f"{A_CLIENT}places/new/", people.place_new, name="place_new"),
    path(f"{A_CLIENT}places/<int:pk>/", people.place_edit, name="place_edit"),
    path(f"{A_CLIENT}places/<int:pk>/remove/", people.place_remove, name="place_remove"),
    path(f"{A_CLIENT}measures/new/", needs.measure_new, name="measure_new"),
    path(f"{A_CLIENT}measures/<int:pk>/strike/", needs.measure_strike, name="measure_strike"),
    path(f"{A_CLIENT}measures/<int:pk>/right/", needs.measure_right, name="measure_right"),
    path(f"{A_CLIENT}measures/<str:kind>/", needs.measure_history, name="measure_history"),
    path(f"{A_CLIENT}access/", needs.access_edit, name="access_edit"),
    path(f"{A_CLIENT}sitting/", needs.sitting_edit, name="sitting_edit"),
    path(f"{A_CLIENT}cautions/", needs.cautions_edit, name="cautions_edit"),
    path(f"{A_CLIENT}goals/new/", agreements.goal_new, name="goal_new"),
    path(f"{A_CLIENT}goals/<int:pk>/", agreements.goal_edit, name="goal_edit"),
    path(f"{A_CLIENT}goals/<int:pk>/strike/", agreements.goal_strike, name="goal_strike"),
    path(f"{A_CLIENT}goals/scores/new/", agreements.goal_scores_new, name="goal_scores_new"),
    path(f"{A_CLIENT}goals/scores/<int:pk>/strike/", agreements.goal_score_strike, name="goal_score_strike"),
    path(f"{A_CLIENT}consents/new/", agreements.consent_new, name="consent_new"),
    path(f"{A_CLIENT}consents/<int:pk>/withdraw/", agreements.consent_withdraw, name="consent_withdraw"),
    path(f"{A_CLIENT}clearances/new/", agreements.clearance_new, name="clearance_new"),
    path(f"{A_CLIENT}clearances/<int:pk>/strike/", agreements.clearance_strike, name="clearance_strike"),
]
