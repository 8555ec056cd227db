"""Whom a person does not want, and that the project is closed."""

import django.db.models.deletion
import uuid
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0006_agreed_word'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name='participant',
            name='not_shown_since',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.CreateModel(
            name='ProjectClosed',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('only', models.BooleanField(default=True, unique=True)),
                ('since', models.DateField()),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('only', True)), name='project_closed_only_one')],
            },
        ),
        migrations.CreateModel(
            name='Unwanted',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('said_on', models.DateField()),
                ('lifted_on', models.DateField(blank=True, null=True)),
                ('person', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='unwanted', to='people.participant')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-said_on'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('lifted_on', None)), fields=('person', 'user'), name='unwanted_once'), models.CheckConstraint(condition=models.Q(('lifted_on', None), ('lifted_on__gte', models.F('said_on')), _connector='OR'), name='unwanted_lifted_after_it_was_said')],
            },
        ),
    ]
