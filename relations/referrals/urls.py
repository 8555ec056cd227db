"""The addresses of the introductions; what is drawn is named by code and key, never by name."""

from django.urls import path

from . import growth_views, link_views, share_views, thread_views, views

app_name = "referrals"

urlpatterns = [
    path("", views.introductions, name="introductions"),
    path("tables/", views.tables, name="tables"),
    path("thanked/<slug:code>/", thread_views.thanked, name="thanked"),
    path("asked-to-tell/<slug:code>/", thread_views.asked_to_tell, name="asked_to_tell"),
    path("links/", link_views.links, name="links"),
    path("links/<slug:code>/", link_views.links_of, name="links_of"),
    path("links/<slug:code>/seal/", link_views.seal_all, name="seal_all"),
    path("link/<uuid:key>/seal/", link_views.seal, name="seal"),
    path("questions/", link_views.questions, name="questions"),
    path("share/", share_views.share, name="share"),
    path("share/drawing/", share_views.share_drawing, name="share_drawing"),
    path("share/drawing/<int:number>.<str:kind>", share_views.share_file, name="share_file"),
    path("share/map/", share_views.working_map, name="working_map"),
    path("growth/<str:by>/<str:of>/", growth_views.growth, name="growth"),
    path("growth/<str:by>/<str:of>/names/", growth_views.names, name="names"),
    path("growth/<str:by>/<str:of>/paper/", growth_views.growth_pdf, name="growth_pdf"),
    path("steps/<str:by>/<str:of>/", growth_views.waves, name="waves"),
    path("person/<str:code>/", growth_views.person, name="person"),
]
