"""The calendar that a person reads their days in."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0007_unwanted_and_closed'),
    ]

    operations = [
        migrations.AddField(
            model_name='participant',
            name='calendar',
            field=models.CharField(blank=True, choices=[('gregorian', 'gregorian'), ('bikram_sambat', 'bikram_sambat'), ('hijri', 'hijri'), ('solar_hijri', 'solar_hijri'), ('ethiopian', 'ethiopian'), ('buddhist', 'buddhist')], default='', max_length=16),
        ),
        migrations.AddConstraint(
            model_name='participant',
            constraint=models.CheckConstraint(condition=models.Q(('calendar__in', ['', 'gregorian', 'bikram_sambat', 'hijri', 'solar_hijri', 'ethiopian', 'buddhist'])), name='person_calendar_known'),
        ),
    ]
