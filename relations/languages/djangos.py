"""What Django itself says on our pages, so that it stands in our catalogues too.

Django's own translations are not whole in each language of ours: Nepali lacks some of these, and
a language that Django does not know lacks all. What stands here is taken up with our own words,
and our catalogues are asked before Django's. Nothing calls it: a test holds it to the fields and
the validators of every form.
"""

from django.utils.translation import gettext_noop, ngettext_lazy

FIELDS = (
    gettext_noop("This field is required."),
    gettext_noop("Enter a number."),
    gettext_noop("Enter a whole number."),
    gettext_noop("Enter a list of values."),
    gettext_noop("Enter a valid value."),
    gettext_noop("Enter a valid “slug” consisting of letters, numbers, underscores or hyphens."),
    gettext_noop("Null characters are not allowed."),
    gettext_noop("Select a valid choice. %(value)s is not one of the available choices."),
    gettext_noop("Select a valid choice. That choice is not one of the available choices."),
    gettext_noop("“%(pk)s” is not a valid value."),
    gettext_noop("Ensure this value is less than or equal to %(limit_value)s."),
    gettext_noop("Ensure this value is greater than or equal to %(limit_value)s."),
)
FILES = (
    gettext_noop("No file was submitted."),
    gettext_noop("No file was submitted. Check the encoding type on the form."),
    gettext_noop("The submitted file is empty."),
    gettext_noop("Please either submit a file or check the clear checkbox, not both."),
)
# Of the validators of passwords that settings.py names.
PASSWORDS = (gettext_noop("This password is too common."),)
COUNTED = (
    ngettext_lazy(
        "Ensure this value has at most %(limit_value)d character (it has %(show_value)d).",
        "Ensure this value has at most %(limit_value)d characters (it has %(show_value)d).",
        "limit_value",
    ),
    ngettext_lazy(
        "Ensure this filename has at most %(max)d character (it has %(length)d).",
        "Ensure this filename has at most %(max)d characters (it has %(length)d).",
        "max",
    ),
    ngettext_lazy(
        "Ensure that there are no more than %(max)s digit in total.",
        "Ensure that there are no more than %(max)s digits in total.",
        "max",
    ),
    ngettext_lazy(
        "Ensure that there are no more than %(max)s decimal place.",
        "Ensure that there are no more than %(max)s decimal places.",
        "max",
    ),
    ngettext_lazy(
        "Ensure that there are no more than %(max)s digit before the decimal point.",
        "Ensure that there are no more than %(max)s digits before the decimal point.",
        "max",
    ),
)
