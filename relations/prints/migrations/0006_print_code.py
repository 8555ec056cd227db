import secrets

from django.db import migrations, models

import relations.prints.models
from relations.languages.codes import PRINT_LENGTH, new_code


def give_codes(apps, schema_editor):
    """A code for each print from before there were any; no two are the same."""
    rows = list(apps.get_model("prints", "Print").objects.only("pk"))
    taken, chance = set(), secrets.SystemRandom()
    for row in rows:
        row.code = new_code(taken, chance, PRINT_LENGTH)
        taken.add(row.code)
    apps.get_model("prints", "Print").objects.bulk_update(rows, ["code"], batch_size=500)


class Migration(migrations.Migration):
    dependencies = [
        ("prints", "0005_endings"),
    ]

    operations = [
        migrations.AddField(
            model_name="print",
            name="code",
            field=models.CharField(max_length=6, null=True, unique=True),
        ),
        migrations.RunPython(give_codes, migrations.RunPython.noop),
        migrations.AlterField(
            model_name="print",
            name="code",
            field=models.CharField(
                default=relations.prints.models.fresh_code, max_length=6, unique=True
            ),
        ),
        migrations.AddConstraint(
            model_name="print",
            constraint=models.CheckConstraint(
                condition=models.Q(("code__regex", "^[34679ACDEFGHJKMNPRTVWXY]{6}$")),
                name="print_code_shape",
            ),
        ),
    ]
