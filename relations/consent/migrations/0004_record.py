import django.db.models.deletion
import relations.privacy.fields
import uuid
from django.conf import settings
from django.db import migrations, models


def note_where_they_are(apps, schema_editor):
    """Of a form from before, the step it stands at is the first that is known."""
    form, step = (apps.get_model("consent", name) for name in ("Form", "FormStep"))
    step.objects.bulk_create(
        step(form=one, number=1, state=one.state, on=one.state_on)
        for one in form.objects.exclude(state="printed")
    )


class Migration(migrations.Migration):

    dependencies = [
        ('consent', '0003_form_kind_and_trip'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='FormStep',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('number', models.PositiveSmallIntegerField()),
                ('state', models.CharField(choices=[('printed', 'printed'), ('carried', 'carried'), ('spoilt', 'spoilt'), ('filled_in', 'filled_in'), ('brought_back_blank', 'brought_back_blank'), ('missing', 'missing'), ('brought_home', 'brought_home'), ('left_with_them', 'left_with_them'), ('scanned', 'scanned'), ('read_once', 'read_once'), ('doubtful', 'doubtful'), ('standing', 'standing'), ('replaced', 'replaced'), ('withdrawn_in_part', 'withdrawn_in_part'), ('withdrawn', 'withdrawn'), ('ended', 'ended'), ('kept_as_proof', 'kept_as_proof'), ('destroyed', 'destroyed'), ('written_off', 'written_off')], max_length=18)),
                ('on', models.DateField()),
                ('form', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='steps', to='consent.form')),
            ],
            options={
                'ordering': ['number'],
                'constraints': [models.UniqueConstraint(fields=('form', 'number'), name='form_step_number_once')],
            },
        ),
        migrations.CreateModel(
            name='KeptCopy',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('number', models.PositiveSmallIntegerField()),
                ('stood_on', models.DateField()),
                ('record', relations.privacy.fields.SealedText()),
                ('record_digest', models.CharField(max_length=64)),
                ('file', models.CharField(blank=True, max_length=36)),
                ('digest', models.CharField(blank=True, max_length=64)),
                ('made_at', models.DateTimeField(blank=True, null=True)),
                ('form', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='kept', to='consent.form')),
                ('made_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['number'],
                'constraints': [models.UniqueConstraint(fields=('form', 'number'), name='kept_copy_number_once'), models.UniqueConstraint(condition=models.Q(('file', ''), _negated=True), fields=('file',), name='kept_copy_file_once'), models.CheckConstraint(condition=models.Q(models.Q(('digest', ''), ('file', ''), ('made_at', None)), models.Q(models.Q(('file', ''), _negated=True), models.Q(('digest', ''), _negated=True), ('made_at__isnull', False)), _connector='OR'), name='kept_copy_made_has_digest')],
            },
        ),
        migrations.RunPython(note_where_they_are, migrations.RunPython.noop),
    ]
