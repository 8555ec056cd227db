"""Every room's pages, in the order of the life of a portrait."""

from django.urls import include, path, register_converter

from relations.documents.serials import SerialConverter

handler500 = "relations.privacy.failing.answer"

register_converter(SerialConverter, "serial")

urlpatterns = [
    path("", include("relations.today.urls")),
    path("", include("relations.privacy.urls")),
    path("people/", include("relations.people.urls")),
    path("meetings/", include("relations.meetings.urls")),
    path("pictures/", include("relations.pictures.urls")),
    path("introductions/", include("relations.referrals.urls")),
    path("forms/", include("relations.consent.urls")),
    path("prints/", include("relations.prints.urls")),
    path("uses/", include("relations.uses.urls")),
    path("alarm/", include("relations.rights.urls")),
    path("trips/", include("relations.trips.urls")),
]
