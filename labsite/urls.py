"""The lab's own addresses; the clients' and the builds' are included whole. Names are flat and unique."""

from django.urls import include, path

from labsite import accounts, door, views

urlpatterns = [
    path("", views.home, name="home"),
    path("health/", views.health, name="health"),
    path("sign-in/", door.sign_in, name="sign_in"),
    path("sign-out/", door.sign_out, name="sign_out"),
    path("password/", door.password_change, name="password_change"),
    path("accounts/", accounts.accounts, name="accounts"),
    path("accounts/new/", accounts.account_new, name="account_new"),
    path("accounts/<int:pk>/", accounts.account_edit, name="account_edit"),
    path("accounts/<int:pk>/close/", accounts.account_close, name="account_close"),
    path("accounts/<int:pk>/reopen/", accounts.account_reopen, name="account_reopen"),
    path("accounts/<int:pk>/reset-password/", accounts.account_reset_password, name="account_reset_password"),
    path("lab/", views.lab_settings, name="lab_settings"),
    path("", include("clients.urls")),
    path("", include("builds.urls")),
]
