from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("builds", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="issuedpaper",
            name="code",
            field=models.CharField(blank=True, max_length=8, verbose_name="Code for checking it"),
        ),
        migrations.AddConstraint(
            model_name="issuedpaper",
            constraint=models.UniqueConstraint(
                condition=models.Q(("code", ""), _negated=True), fields=("code",), name="one_paper_per_code"
            ),
        ),
    ]
