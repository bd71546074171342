from django.apps import AppConfig


class VesselsConfig(AppConfig):
    name = "vessels"
    verbose_name = "Plants and vessels"
