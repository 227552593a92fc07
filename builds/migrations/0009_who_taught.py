from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("builds", "0008_proving_run"),
    ]

    operations = [
        migrations.AddField(
            model_name="teachback",
            name="taught_by",
            field=models.CharField(blank=True, max_length=120, verbose_name="Who taught"),
        ),
    ]
