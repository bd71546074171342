from django.apps import AppConfig


class AccountsConfig(AppConfig):
    name = "project.accounts"
    label = "accounts"
    verbose_name = "People"
