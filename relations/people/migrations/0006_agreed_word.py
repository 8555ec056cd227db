"""The word that was agreed with a person, by which they are known again."""

import relations.privacy.fields
from django.db import migrations


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0005_introduction_precision'),
    ]

    operations = [
        migrations.AddField(
            model_name='participant',
            name='agreed_word',
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
    ]
