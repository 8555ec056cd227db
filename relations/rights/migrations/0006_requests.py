"""How a request was heard, how we were sure who asks, and what came of it."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0006_agreed_word'),
        ('rights', '0005_letting_go'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name='request',
            name='heard_by',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='request',
            name='outcome',
            field=models.CharField(blank=True, choices=[('done', 'done'), ('not_done', 'not_done')], max_length=8),
        ),
        migrations.AddField(
            model_name='request',
            name='sure_how',
            field=models.CharField(blank=True, choices=[('word', 'word'), ('face', 'face'), ('speaker', 'speaker')], max_length=7),
        ),
        migrations.AddField(
            model_name='request',
            name='sure_on',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='request',
            name='way',
            field=models.CharField(blank=True, choices=[('voice', 'voice'), ('paper', 'paper')], max_length=5),
        ),
        migrations.AddConstraint(
            model_name='request',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('sure_how', ''), ('sure_on', None)), models.Q(models.Q(('sure_how', ''), _negated=True), ('sure_on__isnull', False)), _connector='OR'), name='request_sure_how_and_when'),
        ),
        migrations.AddConstraint(
            model_name='request',
            constraint=models.CheckConstraint(condition=models.Q(('extended_on', None), ('extended_on__gte', models.F('asked_on')), _connector='OR'), name='request_extended_after_it_was_asked'),
        ),
        migrations.AddConstraint(
            model_name='request',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('answered_on', None), ('outcome', '')), models.Q(('answered_on__gte', models.F('asked_on')), ('answered_on__isnull', False), models.Q(('outcome', ''), _negated=True)), _connector='OR'), name='request_answered_how_and_when'),
        ),
    ]
