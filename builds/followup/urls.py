"""Addresses of the follow-up."""

from django.urls import path

from builds.followup import views

urlpatterns = [
    path("follow-up/", views.contacts_due, name="contacts_due"),
    path("builds/<str:number>/contacts/", views.contacts, name="contacts"),
    path("builds/<str:number>/contacts/suggest/", views.contacts_suggest, name="contacts_suggest"),
    path("builds/<str:number>/contacts/new/", views.contact_new, name="contact_new"),
    path("builds/<str:number>/contacts/<int:pk>/done/", views.contact_done, name="contact_done"),
    path("builds/<str:number>/contacts/<int:pk>/strike/", views.contact_strike, name="contact_strike"),
]
