"""When a clock ran out: of what, confirmed by whom, postponed once."""

from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0005_introduction_precision'),
        ('rights', '0004_closing'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name='lettinggo',
            name='thing',
            field=models.CharField(blank=True, max_length=36),
        ),
        migrations.AlterField(
            model_name='lettinggo',
            name='clock',
            field=models.CharField(choices=[('named_not_vouched', 'named_not_vouched'), ('said_no', 'said_no'), ('never_reached', 'never_reached'), ('paused', 'paused'), ('stepped_back', 'stepped_back'), ('ways', 'ways'), ('ring_notes', 'ring_notes'), ('links', 'links'), ('recordings', 'recordings'), ('forms', 'forms'), ('see_log', 'see_log'), ('backups', 'backups')], max_length=24),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.CheckConstraint(condition=models.Q(('postponed_until', None), ('postponed_until__gt', models.F('due_on')), _connector='OR'), name='letting_go_postponed_beyond_its_day'),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('confirmed_by', None), ('confirmed_on', None)), models.Q(('confirmed_by__isnull', False), ('confirmed_on__isnull', False)), _connector='OR'), name='letting_go_confirmed_by_somebody'),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.CheckConstraint(condition=models.Q(('clock__in', ['named_not_vouched', 'said_no', 'never_reached', 'paused', 'stepped_back', 'ways', 'ring_notes', 'links', 'recordings', 'forms', 'see_log', 'backups'])), name='letting_go_clock_known'),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.CheckConstraint(condition=models.Q(('person', None), ('thing', ''), _connector='OR'), name='letting_go_of_one_thing'),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.UniqueConstraint(fields=('clock', 'person', 'due_on'), name='letting_go_once_a_person'),
        ),
        migrations.AddConstraint(
            model_name='lettinggo',
            constraint=models.UniqueConstraint(condition=models.Q(('thing', ''), _negated=True), fields=('clock', 'thing', 'due_on'), name='letting_go_once_a_thing'),
        ),
    ]
