"""The sealed file of what was printed."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("documents", "0003_layout"),
    ]

    operations = [
        migrations.AddField(
            model_name="sheet",
            name="kept",
            field=models.CharField(blank=True, max_length=36),
        ),
    ]
