"""One form on a page of its own, where no other page of the site is."""

from django import forms
from django.template import engines
from django.test import override_settings

PAGE = """{% load crispy_forms_tags %}<!doctype html><html lang="en" dir="ltr"><head>
<title>F</title></head><body>{% include "_marks.html" %}
<main><h1>F</h1>{% crispy form %}</main></body></html>"""
urlpatterns: list = []


def shown(form: forms.Form) -> str:
    """The whole page; crispy-forms looks the form's action up among the addresses, here none."""
    with override_settings(ROOT_URLCONF=__name__):
        return engines["django"].from_string(PAGE).render({"form": form})
