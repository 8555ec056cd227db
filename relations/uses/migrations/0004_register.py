"""Why a line stands on the undo list, and when whoever holds the files was told."""

from django.db import migrations, models

from relations.privacy.models import choices_of
from relations.uses.causes import Because


class Migration(migrations.Migration):
    dependencies = [("uses", "0003_clearance_sheets")]

    operations = [
        migrations.AddField(
            model_name="undoline",
            name="because",
            field=models.CharField(
                choices=choices_of(Because), default=Because.TAKEN_BACK, max_length=10
            ),
        ),
        migrations.AddField(
            model_name="undoline",
            name="told_holder_on",
            field=models.DateField(blank=True, null=True),
        ),
    ]
