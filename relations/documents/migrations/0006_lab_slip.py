from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('documents', '0005_sheet_kinds'),
    ]

    operations = [
        migrations.AlterField(
            model_name='sheet',
            name='kind',
            field=models.CharField(choices=[('form', 'form'), ('explanation', 'explanation'), ('stop_card', 'stop_card'), ('take_back', 'take_back'), ('meeting', 'meeting'), ('sitting', 'sitting'), ('spot', 'spot'), ('receipt', 'receipt'), ('answer', 'answer'), ('notice', 'notice'), ('day_sheet', 'day_sheet'), ('lab_slip', 'lab_slip'), ('clearance', 'clearance'), ('order', 'order'), ('other', 'other')], max_length=12),
        ),
    ]
