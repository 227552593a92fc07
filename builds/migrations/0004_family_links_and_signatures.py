import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

import builds.fields

UNKNOWN = {"choices": [("yes", "Yes"), ("no", "No"), ("unknown", "Unknown")], "default": "unknown", "max_length": 10}


class Migration(migrations.Migration):
    dependencies = [
        ("builds", "0003_more_papers"),
        ("clients", "0001_initial"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AlterField(
            model_name="problem",
            name="made_by",
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL, verbose_name="Written by"),
        ),
        migrations.CreateModel(
            name="FamilyLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now, verbose_name="Written at")),
                ("number", models.PositiveIntegerField(verbose_name="Link")),
                ("language", models.CharField(default="en", max_length=10, verbose_name="Language of the pages")),
                ("key_digest", models.CharField(max_length=64, unique=True)),
                ("word_hash", models.CharField(max_length=128)),
                ("expires_at", models.DateTimeField(verbose_name="Works until")),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
                ("opened_at", models.DateTimeField(blank=True, null=True, verbose_name="Last opened")),
                ("failures", models.PositiveIntegerField(default=0, verbose_name="Wrong words since it was last opened")),
                ("locked_until", models.DateTimeField(blank=True, null=True)),
                ("build", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="family_links", to="builds.build")),
                ("made_by", models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL, verbose_name="Written by")),
                ("revoked_by", models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL)),
            ],
            options={
                "ordering": ["build", "number"],
                "constraints": [models.UniqueConstraint(fields=("build", "number"), name="one_family_link_per_number")],
            },
        ),
        migrations.CreateModel(
            name="DiaryLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now)),
                ("used_on", models.DateField(verbose_name="Day")),
                ("minutes", models.PositiveIntegerField(verbose_name="Minutes")),
                ("place", models.CharField(blank=True, max_length=80, verbose_name="Where")),
                ("note", models.CharField(blank=True, max_length=300, verbose_name="Note")),
                ("link", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="diary", to="builds.familylink")),
            ],
            options={"ordering": ["-used_on", "-pk"]},
        ),
        migrations.CreateModel(
            name="FamilyReport",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now)),
                ("text", models.TextField(verbose_name="What happened")),
                ("hurt", models.CharField(verbose_name="Anyone hurt", **UNKNOWN)),
                ("photo", models.ImageField(blank=True, upload_to=builds.fields.family_photo_path)),
                ("shows_client", models.CharField(verbose_name="The client can be seen", **UNKNOWN)),
                ("photo_refused", models.BooleanField(default=False, verbose_name="A photo came and was not kept")),
                ("link", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="reports", to="builds.familylink")),
                ("problem", models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name="family_report", to="builds.problem")),
            ],
            options={"ordering": ["-pk"]},
        ),
        migrations.CreateModel(
            name="DrawnSignature",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now, verbose_name="Written at")),
                ("image", models.ImageField(upload_to=builds.fields.drawn_signature_path)),
                ("paper_digest", models.CharField(max_length=64, verbose_name="Digest of the sheet")),
                ("adult", models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="signatures", to="clients.caregiver")),
                ("made_by", models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL, verbose_name="Written by")),
                ("paper", models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="signatures", to="builds.issuedpaper")),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [models.UniqueConstraint(fields=("paper", "adult"), name="one_signature_per_adult_and_paper")],
            },
        ),
    ]
