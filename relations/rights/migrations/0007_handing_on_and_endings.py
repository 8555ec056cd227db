"""A handover counted by hand, whom to introduce, and how the project ends for each person."""

import django.db.models.deletion
import uuid
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0007_unwanted_and_closed'),
        ('rights', '0006_requests'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='ToIntroduce',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('spoken_on', models.DateField(blank=True, null=True)),
                ('said', models.CharField(blank=True, choices=[('introduced', 'introduced'), ('refused', 'refused')], max_length=10)),
            ],
            options={
                'ordering': ['person__code'],
            },
        ),
        migrations.AddField(
            model_name='ending',
            name='decided_by',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='ending',
            name='look_again_on',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='handover',
            name='begun_by',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='handover',
            name='by_hand',
            field=models.JSONField(default=dict),
        ),
        migrations.AddField(
            model_name='handover',
            name='called_off_on',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='handover',
            name='is_open',
            field=models.BooleanField(blank=True, default=None, null=True, unique=True),
        ),
        migrations.AddField(
            model_name='handover',
            name='why_differs',
            field=models.CharField(blank=True, max_length=140),
        ),
        migrations.AddField(
            model_name='ending',
            name='was',
            field=models.CharField(blank=True, max_length=20),
        ),
        migrations.AddField(
            model_name='ending',
            name='was_since',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddConstraint(
            model_name='ending',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('was', ''), ('was_since', None)), models.Q(models.Q(('was', ''), _negated=True), ('was_since__isnull', False)), _connector='OR'), name='ending_was_somewhere_since_a_day'),
        ),
        migrations.AlterField(
            model_name='ending',
            name='how',
            field=models.CharField(choices=[('as_agreed', 'as_agreed'), ('archive', 'archive'), ('given_back', 'given_back'), ('destroyed', 'destroyed'), ('could_not_ask', 'could_not_ask')], max_length=20),
        ),
        migrations.AddConstraint(
            model_name='ending',
            constraint=models.CheckConstraint(condition=models.Q(('how__in', ['as_agreed', 'archive', 'given_back', 'destroyed', 'could_not_ask'])), name='ending_how_known'),
        ),
        migrations.AddConstraint(
            model_name='ending',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('how', "could_not_ask"), ('look_again_on__isnull', False)), models.Q(models.Q(('how', "could_not_ask"), _negated=True), ('look_again_on', None)), _connector='OR'), name='ending_looked_at_again_where_nobody_could_ask'),
        ),
        migrations.AddConstraint(
            model_name='handover',
            constraint=models.CheckConstraint(condition=models.Q(('is_open', None), models.Q(('called_off_on', None), ('is_open', True), ('signed_by_both_at', None)), _connector='OR'), name='handover_open_until_signed'),
        ),
        migrations.AddConstraint(
            model_name='handover',
            constraint=models.CheckConstraint(condition=models.Q(('signed_by_both_at', None), ('called_off_on', None), _connector='OR'), name='handover_signed_or_called_off'),
        ),
        migrations.AddField(
            model_name='tointroduce',
            name='handover',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='to_introduce', to='rights.handover'),
        ),
        migrations.AddField(
            model_name='tointroduce',
            name='person',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='people.participant'),
        ),
        migrations.AddConstraint(
            model_name='tointroduce',
            constraint=models.UniqueConstraint(fields=('handover', 'person'), name='introduced_once_a_handover'),
        ),
        migrations.AddConstraint(
            model_name='tointroduce',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('said', ''), ('spoken_on', None)), models.Q(('said__in', ['introduced', 'refused']), ('spoken_on__isnull', False)), _connector='OR'), name='introduced_on_a_day'),
        ),
    ]
