import django.db.models.deletion
import relations.prints.lab
import uuid
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('meetings', '0004_planned_sitting'),
        ('prints', '0001_initial'),
    ]

    operations = [
        migrations.CreateModel(
            name='LabLine',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('number', models.PositiveSmallIntegerField()),
                ('size', models.CharField(max_length=20)),
                ('price', models.DecimalField(blank=True, decimal_places=2, max_digits=9, null=True)),
                ('came', models.CharField(blank=True, choices=[('collected', 'collected'), ('good', 'good'), ('faulty', 'faulty'), ('lost', 'lost'), ('struck', 'struck')], max_length=9)),
                ('fault', models.CharField(blank=True, choices=[('person', 'person'), ('frame', 'frame'), ('colour', 'colour'), ('surface', 'surface')], max_length=7)),
            ],
            options={
                'ordering': ['number'],
            },
        ),
        migrations.AddField(
            model_name='laborder',
            name='currency',
            field=models.CharField(blank=True, max_length=3),
        ),
        migrations.AddField(
            model_name='laborder',
            name='handed_over_on',
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='laborder',
            name='spoilt',
            field=models.PositiveSmallIntegerField(default=0),
        ),
        migrations.AddField(
            model_name='laborder',
            name='surface',
            field=models.CharField(choices=[('matt', 'matt'), ('gloss', 'gloss')], default=relations.prints.lab.Surface['MATT'], max_length=5),
        ),
        migrations.AddConstraint(
            model_name='laborder',
            constraint=models.CheckConstraint(condition=models.Q(('surface__in', ['matt', 'gloss'])), name='lab_order_surface_known'),
        ),
        migrations.AddField(
            model_name='labline',
            name='order',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='lines', to='prints.laborder'),
        ),
        migrations.AddField(
            model_name='labline',
            name='print',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='lab_lines', to='prints.print'),
        ),
        migrations.AddConstraint(
            model_name='labline',
            constraint=models.UniqueConstraint(fields=('order', 'number'), name='lab_line_number_once'),
        ),
        migrations.AddConstraint(
            model_name='labline',
            constraint=models.UniqueConstraint(fields=('order', 'print'), name='lab_line_print_once'),
        ),
        migrations.AddConstraint(
            model_name='labline',
            constraint=models.CheckConstraint(condition=models.Q(('came', ''), ('came__in', ['collected', 'good', 'faulty', 'lost', 'struck']), _connector='OR'), name='lab_line_came_known'),
        ),
        migrations.AddConstraint(
            model_name='labline',
            constraint=models.CheckConstraint(condition=models.Q(('fault', ''), models.Q(('came', 'faulty'), ('fault__in', ['person', 'frame', 'colour', 'surface'])), _connector='OR'), name='lab_line_fault_of_a_faulty_one'),
        ),
    ]
