"""Addresses of signing in and out, of the accounts, and of one's own password and codes."""

from django.urls import path

from . import account_views, clock_views, own_views, views

app_name = "privacy"

urlpatterns = [
    path("in/", views.sign_in, name="sign_in"),
    path("in/language/", views.speak, name="speak"),
    path("in/code/", views.code, name="code"),
    path("out/", views.sign_out, name="sign_out"),
    path("away/", views.away, name="away"),
    path("sure/", views.sure, name="sure"),
    path("clock/", clock_views.clock, name="clock"),
    path("own/", own_views.own, name="own"),
    path("own/language/", own_views.language, name="language"),
    path("own/password/", own_views.password, name="password"),
    path("own/codes/", own_views.code_device, name="code_device"),
    path("own/codes/new/", own_views.new_code_device, name="new_code_device"),
    path("own/codes/paper/", own_views.new_paper, name="new_paper"),
    path("own/codes/picture.svg", own_views.code_picture, name="code_picture"),
    path("accounts/", account_views.accounts, name="accounts"),
    path("accounts/new/", account_views.new_account, name="new_account"),
    path("accounts/end/", account_views.end_all_sessions, name="end_all_sessions"),
    path("accounts/seen/", account_views.seen, name="seen"),
    path("accounts/<uuid:key>/", account_views.account, name="account"),
    path("accounts/<uuid:key>/end/", account_views.end_sessions, name="end_sessions"),
    path("accounts/<uuid:key>/lost/", account_views.lost_phone, name="lost_phone"),
    path("accounts/<uuid:key>/lost-codes/", account_views.lost_codes, name="lost_codes"),
    path("accounts/<uuid:key>/free/", account_views.free, name="free"),
    path("accounts/<uuid:key>/role/", account_views.change_role, name="change_role"),
    path("accounts/<uuid:key>/password/", account_views.give_password, name="give_password"),
    path("accounts/<uuid:key>/let-go/", account_views.let_go, name="let_go"),
    path("accounts/<uuid:key>/let-in/", account_views.let_in, name="let_in"),
    path("favicon.ico", views.no_icon, name="no_icon"),
]
