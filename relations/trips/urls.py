"""Addresses of trips; a trip is known by its code."""

from django.urls import path

from . import views

app_name = "trips"

urlpatterns = [
    path("<slug:code>/", views.detail, name="detail"),
    path("<slug:code>/days/", views.days, name="days"),
    path("<slug:code>/plan/", views.plan, name="plan"),
    path("<slug:code>/portfolio/", views.portfolio, name="portfolio"),
    path("<slug:code>/pack/", views.pack, name="pack"),
    path("<slug:code>/balance/", views.balance, name="balance"),
    path("<slug:code>/balance/alarm/", views.alarm, name="alarm"),
    path("<slug:code>/balance/<serial:serial>/", views.write_off, name="write_off"),
    path("<slug:code>/close/", views.close, name="close"),
]
