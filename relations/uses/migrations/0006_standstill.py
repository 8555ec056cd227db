"""The keeper's hold on every new use."""

import django.db.models.deletion
import uuid
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('uses', '0005_taken_down'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Standstill',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('laid_at', models.DateTimeField()),
                ('is_current', models.BooleanField(blank=True, default=True, null=True, unique=True)),
                ('lifted_at', models.DateTimeField(blank=True, null=True)),
                ('sentence', models.CharField(blank=True, max_length=140)),
                ('laid_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('lifted_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-laid_at'],
                'constraints': [models.CheckConstraint(condition=models.Q(models.Q(('is_current', True), ('is_current__isnull', False), ('lifted_at', None), ('lifted_by', None), ('sentence', '')), models.Q(('is_current', None), ('lifted_at__isnull', False), ('lifted_by__isnull', False), models.Q(('sentence', ''), _negated=True)), _connector='OR'), name='standstill_lifted_by_whom_and_why')],
            },
        ),
    ]
